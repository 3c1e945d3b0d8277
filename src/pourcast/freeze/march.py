"""March: one casting from the end of the pour until it can be quenched.

Steps grow by a fixed ratio, as all that happens slows down with time.  In each
step the heat of all bodies and of the rings of the button is worked out
together, at its end.  What the mould took before the march begins is worked out in
`pourcast.freeze.steep`.

Once the piece is solid and holds little heat beside the button, only the button is
followed.  What the piece draws through the gate then goes with the heat of the gate
over the mould.
"""

from pourcast import units as si
from pourcast.freeze.button import button_flows, button_lines, button_solve
from pourcast.freeze.columns import (
    END_TIME,
    FIRST_STEP,
    HEAT_GIVEN,
    HEAT_MISSING,
    LONGEST,
    MOULD,
    POURED_AT,
    ROOM,
    STEP_GROWTH,
    STEPS,
)
from pourcast.freeze.piece_step import begin_piece, end_piece, piece_is_spent
from pourcast.freeze.rings import RINGS, SLICES, rings_in
from pourcast.freeze.room import Room
from pourcast.freeze.settle import settle
from pourcast.freeze.steep import soak_while_pouring
from pourcast.freeze.watch import begin_watch, state, watch
from pourcast.kernels import kernel

_ALONE_GROWTH = 1.1  # of the steps when only the button is followed, which costs little


@kernel
def march(
    near: si.Places,
    far: si.Places,
    cut: si.Integers,
    meets: si.Integers,
    tall: si.Metre,
    outside: si.SquareMetre,
    stop: si.JoulePerKilogram,
    coldest: si.JoulePerKilogram,
    coldest_button: si.JoulePerKilogram,
    parameters: si.Table,
    moments: si.Seconds,
    closed: si.Seconds,
    ends: si.Table,
    held: Room,
) -> None:
    """Freeze one casting.

    Parameters
    ----------
    near, far : array of int, shape (bodies,)
    cut, meets : array of int, shape (rings,)
    tall : float [m]
        Of a slice of the button.
    outside : float [m²]
        Face of the flask round a slice.
    stop, coldest, coldest_button : float [J/kg]
        Heat where metal stops moving; of metal as cold as the mould; as the room.
    parameters : array [by column], shape (PARAMETERS,)
    moments : array [s], shape (bodies + SLICES, LEVELS)
    closed : array [s], shape (bodies + SLICES,)
    ends : array [by column], shape (ENDS,)
        These three are filled.
    held : Room
        As `pourcast.freeze.set_out` leaves it.
    """
    bodies = near.size
    soak_while_pouring(bodies, parameters, held)
    time = parameters[END_TIME]
    step = parameters[FIRST_STEP]
    given_by_metal = 0.0
    received = 0.0
    hot_before = parameters[POURED_AT]
    face_before = 0.0
    mean_before = parameters[MOULD]
    begin_watch(time, held.volume[bodies] > 0.0, ends)
    steps = 0
    done = False
    resting = False
    growth = parameters[STEP_GROWTH]
    while not done and time < parameters[LONGEST]:
        time += step
        steps += 1
        if not resting:
            begin_piece(step, coldest, near, far, parameters, held)
        top = button_lines(
            bodies,
            step,
            tall,
            outside,
            coldest_button,
            parameters,
            held.curve,
            held.level,
            held.mass,
            held.heat,
            held.temperature,
            held.slope,
            held.solid,
            held.slice_face,
            held.slice_across,
            held.ring_room,
            held.ring_way,
            held.ring,
            held.ring_share,
            held.ring_free,
            held.ring_hold,
            held.ring_drawn,
            held.slice_touch,
            held.slice_outer,
            held.slice_way,
            held.slice_stiff,
            held.slice_given,
        )
        held.node_found[0] = button_solve(
            bodies,
            held.pull[0],
            held.node_given[0],
            held.slice_stiff,
            held.slice_given,
            held.slice_way,
            held.slice_share,
            held.slice_free,
            held.found,
        )
        drawn = 0.0
        if resting:
            drawn = held.pull[0] * held.node_found[0] - held.node_given[0]
        else:
            drawn = end_piece(step, near, far, cut, meets, parameters, held)
        drawn += button_flows(
            bodies,
            held.node_found[0],
            top,
            parameters[ROOM],
            held.ring_hold,
            held.ring_drawn,
            held.slice_way,
            held.found,
            held.given,
        )
        for place in range(SLICES):
            if held.volume[bodies + place] <= 0.0:
                continue
            for number in range(RINGS):
                drawn -= held.ring_room[place, number] * held.ring[place, number] / step
            rings_in(place, held.found[bodies + place], held.ring, held.ring_share, held.ring_free)
            for number in range(RINGS):
                drawn += held.ring_room[place, number] * held.ring[place, number] / step
            last = held.ring[place, RINGS - 1]
            drawn += held.slice_outer[place] * (last - parameters[ROOM])
        received += step * drawn
        begin = bodies if resting else 0
        for body in range(begin, bodies + SLICES):
            given_by_metal -= step * held.given[body]
        left = settle(
            begin,
            time,
            step,
            stop,
            held.given,
            held.mass,
            held.curve,
            held.level,
            held.heat,
            held.before,
            held.piece,
            held.passes,
            held.passing,
            held.temperature,
            held.slope,
            held.solid,
            moments,
            closed,
        )
        hot, face, mean = state(bodies, held)
        if steps == 1:
            face_before = face
        done = watch(
            time,
            step,
            left,
            hot_before,
            face_before,
            mean_before,
            hot,
            face,
            mean,
            parameters,
            ends,
        )
        liquid_slices = 0
        for place in range(SLICES):
            if held.volume[bodies + place] > 0.0 and held.solid[bodies + place] < 1.0:
                liquid_slices += 1
        if not resting and left == liquid_slices and piece_is_spent(bodies, coldest, held):
            resting = True
            gate = held.node_found[0]
            into = (held.found[bodies] - gate) * held.slice_way[0]
            over = max(gate - parameters[MOULD], 1.0)
            held.pull[0] = max(into / over, 0.0)
            held.node_given[0] = held.pull[0] * parameters[MOULD]
            growth = min(growth, _ALONE_GROWTH)
            step = min(step, (growth - 1.0) * time / growth)
        hot_before = hot
        face_before = face
        mean_before = mean
        step *= growth
    ends[HEAT_GIVEN] = given_by_metal
    ends[HEAT_MISSING] = given_by_metal - received
    ends[STEPS] = steps
