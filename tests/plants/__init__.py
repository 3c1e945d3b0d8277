"""Test plants: made by rule and seed, so that every measure of them is known.

    kinds.py      umbel, twig, insect, leaf: a `Piece` from a seed
    truth.py      its members one by one in millimetres, and the volume of all of it
    shells.py     a closed shell of faces for each member
    meshes.py     trimesh meshes: clean, noisy, torn, decimated, flipped, doubled
    paper.py      the same piece as an ordinary piece file
    pictures.py   photographs of it: pinhole camera, uneven light, noise, a bar of known length

The plant stands up: the gate is at the origin and z points away from it, in
millimetres, as a scan or a photograph on the bench shows it.  Places and
directions come from `pourcast.piece.place`, so a reader that agrees with the
truth also agrees with the piece file on what length, place and angle mean.
Nothing here is a real plant.
"""
