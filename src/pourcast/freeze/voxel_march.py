"""March: one step of block and metal, in one pass or in several (`pourcast.freeze.voxel_passes`).

In a pass the metal runs on one thread and the mould on the others: neither needs what
the other does before the pass is over, because the mould stands still for the metal and
the metal's heat is added to the mould at the end.  Every number is worked out in the
same order whatever the number of threads, so the result is the same to the last bit.
"""

from collections.abc import Callable
from concurrent.futures import Executor
from itertools import pairwise

import numpy as np

from pourcast import units as si
from pourcast.freeze.voxel_advance import read_state, run_stages
from pourcast.freeze.voxel_faces import (
    give_from_stacks,
    give_heat,
    set_conductances,
    set_faces,
    set_ways,
)
from pourcast.freeze.voxel_metal import close_step, stage_table, stages_for
from pourcast.freeze.voxel_mould import set_wall, step_planes
from pourcast.freeze.voxel_passes import carry_back, passes_for
from pourcast.freeze.voxel_state import March

SET_EVERY = 20
"""Passes after which conductances are set anew; the conductivity of the mould at a face
changes by less than 1 % in that time (estimate)."""


def advance(march: March, step: si.Second, pool: Executor | None, threads: int) -> None:
    """Make one step.

    Parameters
    ----------
    march : March
        Changed.
    step : float [s]
    pool : Executor or None
        None: all on this thread.
    threads : int
        This one and those of the pool.
    """
    passes = passes_for(step, march.longest)
    start, each = march.time, 2.0 * step / (passes * passes + passes)
    for place in range(1, passes + 1):
        until = start + (step if place == passes else each * place * (place + 1) / 2)
        _make_pass(march, (2 * place - 1) / place, each, until, pool, threads)
    march.steps += 1


def _make_pass(
    march: March,
    mu: si.Ratio,
    step: si.Second,
    until: si.Second,
    pool: Executor | None,
    threads: int,
) -> None:
    """Make one pass; ``until`` is the time that its answer stands for."""
    lists, nodes = march.lists, march.nodes
    if march.passes % SET_EVERY == 0:
        set_wall(march.u, lists.wall_cell, lists.wall, march.mould_row)
        set_conductances(
            march.u,
            march.mould_row,
            march.metal_row,
            lists.face_skin,
            lists.face_cell,
            lists.facing,
            march.cells.skin_temperature,
            march.face,
        )
    set_faces(
        march.u,
        march.mould_row,
        lists.face_skin,
        lists.face_cell,
        lists.top,
        march.top_kind,
        march.cells.skin_temperature,
        march.face,
        march.cells.skin_out,
        march.top_rate,
    )
    cores = march.graph.shells.first.size
    if cores:
        set_ways(
            march.u,
            nodes.content,
            march.mould_row,
            cores,
            nodes.capacity.size,
            nodes.pair,
            nodes.fixed,
            nodes.reach,
            nodes.outer_node,
            nodes.outer_cell,
            nodes.outer_reach,
            nodes.conductance,
            nodes.outer_face,
            nodes.outer,
        )
    stages = stages_for(step, march.metal_limit)
    works = _mould_works(march, mu, step, max(1, threads - 1))
    if pool is None:
        _run_metal(march, mu, step, until, stages)
        for work in works:
            work()
    else:
        waiting = [pool.submit(_run_metal, march, mu, step, until, stages)]
        waiting += [pool.submit(work) for work in works[1:]]
        works[0]()
        for future in waiting:
            future.result()
    gone = give_heat(
        mu,
        step,
        march.v,
        march.mould_row,
        lists.face_skin,
        lists.face_cell,
        march.face,
        lists.top,
        march.top_rate,
        march.cells.skin_sum,
    )
    told = march.lost_above
    march.lost_above = told + (1.0 - mu) * (march.lost_above_before - told) + mu * gone
    march.lost_above_before = told
    if cores:
        give_from_stacks(
            mu,
            step,
            march.v,
            march.mould_row,
            nodes.outer_node,
            nodes.outer_cell,
            nodes.outer_face,
            nodes.sums,
        )
    march.u, march.v = march.v, march.u
    march.time = until
    march.passes += 1
    march.stages += stages


def _run_metal(march: March, mu: si.Ratio, step: si.Second, until: si.Second, stages: int) -> None:
    cores = march.graph.shells.first.size
    run_stages(
        stage_table(stages, step),
        cores,
        march.voxel,
        march.mould_row,
        march.cells,
        march.nodes,
        march.d1,
        march.d2,
        march.f,
        march.e1,
        march.e2,
    )
    if stages % 2:
        march.d1, march.d2 = march.d2, march.d1
        march.e1, march.e2 = march.e2, march.e1
    content = march.nodes.content
    carry_back(mu, march.heat, march.heat_before, march.d1)
    carry_back(mu, content, march.content_before, march.e1)
    left = close_step(
        march.time,
        until - march.time,
        march.heat,
        march.d1,
        march.cells.base,
        march.levels,
        march.passed,
        march.times,
    )
    if cores:
        left += close_step(
            march.time,
            until - march.time,
            content[:cores],
            march.e1[:cores],
            np.empty(cores, dtype=np.float32),
            march.levels,
            march.stack_passed,
            march.stack_times,
        )
        content[cores:] += march.e1[cores:]
    if mu != 1.0:
        read_state(
            cores,
            march.voxel,
            march.mould_row,
            march.cells,
            march.nodes,
            march.d1,
            march.f,
            march.e1,
        )
    march.liquid_left = left


def _mould_works(
    march: March, mu: si.Ratio, step: si.Second, parts: int
) -> list[Callable[[], None]]:
    lists = march.lists
    nx = lists.shape[0]
    offsets = march.cells.offsets
    cuts = np.linspace(1, nx - 1, parts + 1).astype(int).tolist()

    def part(first: int, last: int, place: int) -> Callable[[], None]:
        def work() -> None:
            step_planes(
                first,
                last,
                mu,
                step / march.voxel**2,
                step,
                march.u,
                march.v,
                offsets,
                march.coefficients,
                lists.run_first,
                lists.run_last,
                lists.edge,
                lists.edge_open,
                lists.edge_plane,
                march.edge_before,
                lists.wall_cell,
                lists.wall,
                lists.wall_plane,
                march.wall_temperature,
                march.wall_before,
                march.mould_row,
                march.lost,
                march.lost_before,
                march.potential[place],
            )

        return work

    return [part(*cut, place) for place, cut in enumerate(pairwise(cuts))]


def held_heat(march: March) -> si.Joule:
    """Return the heat that metal, mould and steel hold, from fixed zeros.

    Parameters
    ----------
    march : March

    Returns
    -------
    float [J]
    """
    capacity = march.fit.capacity * march.voxel**3
    mould = 0.0
    layer = march.lists.shape[1] * march.lists.shape[2]
    for begin in range(0, march.u.size, layer):
        plane = slice(begin, begin + layer)
        mould += float(march.u[plane][march.kind[plane] == 1].sum(dtype=np.float64))
    nodes = float((march.nodes.content * march.nodes.capacity).sum())
    steel = float((march.lists.wall[:, 0] * march.lists.wall[:, 2] * march.wall_temperature).sum())
    return capacity * mould + float(march.heat.sum()) * march.voxel**3 + nodes + steel
