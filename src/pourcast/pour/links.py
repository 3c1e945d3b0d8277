"""Links: passages in a row without a fork between them, which share one flow.

What a link opposes to its flow is the sum over its runs, so the flow of a step has one
unknown for each link and not for each segment.  A link grows at its end while its front
runs from segment to segment; where a front comes to a fork, stops or meets another, all
links are made anew.  Links are numbered from the cup on: each has a higher number than the
one that feeds it.

Two links become one where all other ways of a fork have stopped: the flow is then the
mean of both, weighted by their inertia, so that no momentum is lost.

The friction of full runs is worked out again when a run is added to the link, when their heat is,
since crystals drag, and where the flow has moved by 3 %, which is worth under 1 % of the drag.
"""

from pourcast import units as si
from pourcast.kernels import kernel, small_kernel
from pourcast.pour.columns import (
    CALM_FLOW,
    FIXED,
    FLOW,
    FLOW_BEFORE,
    INERTIA,
    INFLOW,
    LINK,
    LINK_BEFORE,
    LINK_CALM,
    LINK_COLUMNS,
    LINK_DRAG,
    LINK_FED,
    LINK_FLOW,
    LINK_FLOW_AT,
    LINK_INERTIA,
    LINK_INLET,
    LINK_MARKS,
    LINK_SQUARE,
    LINK_WEIGHT,
    MARKS,
    MOVING,
    NONE,
    PARENT,
    REYNOLDS,
    ROUGH,
    RUNNING,
    SQUARE,
    STATE,
    SWIRL,
    TAIL,
    UPSTREAM,
    WEIGHT,
    WET_DRAG,
    of_width,
)
from pourcast.pour.friction import turbulent_factor, turbulent_share

STALE = -1.0  # of LINK_FLOW_AT: friction is not known
MOVED = 0.03  # share by which a flow may move before friction is worked out again


@kernel
def add_full(link: int, run: int, fixed: si.Table, moving: si.Table, flows: si.Table) -> None:
    """Add a run that has become full to its link.

    Parameters
    ----------
    link, run : int
    fixed, moving, flows : array [by column]
    """
    flows[link, LINK_INERTIA] += moving[run, INERTIA]
    flows[link, LINK_WEIGHT] += fixed[run, WEIGHT]
    flows[link, LINK_CALM] = min(flows[link, LINK_CALM], fixed[run, CALM_FLOW])
    flows[link, LINK_FLOW_AT] = STALE


@small_kernel
def rubbed(
    run: int, flow: si.CubicMetrePerSecond, fixed: si.Table, moving: si.Table
) -> tuple[si.PascalSecondPerCubicMetre, si.PascalSquareSecondPerMetreSix]:
    """Return drag and heads lost of a full run at a flow [Pa·s/m³], [Pa·s²/m⁶].

    Parameters
    ----------
    run : int
    flow : float [m³/s]
    fixed, moving : array [by column]
    """
    drag = moving[run, WET_DRAG]
    square = moving[run, SQUARE]
    if flow > fixed[run, CALM_FLOW]:
        reynolds = fixed[run, REYNOLDS] * flow
        turbulent = turbulent_share(reynolds)
        square += turbulent * turbulent_factor(reynolds, fixed[run, ROUGH]) * moving[run, SWIRL]
        drag *= 1.0 - turbulent
    return drag, square


@kernel
def rub(
    link: int,
    flow: si.CubicMetrePerSecond,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Places,
    flows: si.Table,
    links: si.Places,
) -> None:
    """Fill the drag of the full runs of a link at a flow.

    Parameters
    ----------
    link : int
    flow : float [m³/s]
    fixed, moving, flows : array [by column]
    marks : array of int, shape (runs, MARKS)
    links : array of int, shape (runs, LINK_MARKS)
    """
    of_width(fixed, FIXED)
    of_width(moving, MOVING)
    of_width(marks, MARKS)
    of_width(flows, LINK_COLUMNS)
    of_width(links, LINK_MARKS)
    flows[link, LINK_FLOW_AT] = flow
    drag = 0.0
    square = 0.0
    run = links[link, TAIL]
    if marks[run, STATE] == RUNNING:
        run = marks[run, PARENT]
    while run != NONE and marks[run, LINK] == link:
        own_drag, own_square = rubbed(run, flow, fixed, moving)
        drag += own_drag
        square += own_square
        run = marks[run, PARENT]
    flows[link, LINK_DRAG] = drag
    flows[link, LINK_SQUARE] = square


@kernel
def inlet_of_front(
    run: int,
    step: si.Second,
    marks: si.Places,
    flows: si.Table,
) -> si.Pascal:
    """Return the pressure where the run of a front begins [Pa].

    Parameters
    ----------
    run : int
    step : float [s]
        In which LINK_BEFORE became LINK_FLOW.
    marks : array of int, shape (runs, MARKS)
    flows : array [by column]

    Returns
    -------
    float [Pa]
    """
    link = marks[run, LINK]
    flow = flows[link, LINK_FLOW]
    lost = (flows[link, LINK_DRAG] + flows[link, LINK_SQUARE] * flow) * flow
    lost += flows[link, LINK_INERTIA] * (flow - flows[link, LINK_BEFORE]) / step
    inlet: si.Pascal = flows[link, LINK_INLET] + flows[link, LINK_WEIGHT] - lost
    return inlet


@kernel
def keep_flows(
    counts: si.Integers,
    fronts: si.Places,
    moving: si.Table,
    flows: si.Table,
    links: si.Places,
) -> si.CubicMetrePerSecond:
    """Return the flow out of the cup, and keep all flows as those at the start of a step [m³/s].

    Parameters
    ----------
    counts, fronts : array of int
    moving, flows : array [by column]
    links : array of int, shape (runs, LINK_MARKS)

    Returns
    -------
    float [m³/s]
    """
    of_width(moving, MOVING)
    of_width(flows, LINK_COLUMNS)
    of_width(links, LINK_MARKS)
    out = 0.0
    for link in range(counts[6]):
        flows[link, LINK_BEFORE] = flows[link, LINK_FLOW]
        if links[link, UPSTREAM] == NONE:
            out += flows[link, LINK_FLOW]
    for place in range(counts[3]):
        moving[fronts[place], FLOW_BEFORE] = moving[fronts[place], FLOW]
    return out


@kernel
def bring_back_flows(
    counts: si.Integers, fronts: si.Places, moving: si.Table, flows: si.Table
) -> None:
    """Put all flows back to those at the start of the step.

    Parameters
    ----------
    counts, fronts : array of int
    moving, flows : array [by column]
    """
    for link in range(counts[6]):
        flows[link, LINK_FLOW] = flows[link, LINK_BEFORE]
    for place in range(counts[3]):
        moving[fronts[place], FLOW] = moving[fronts[place], FLOW_BEFORE]


@kernel
def feed(step: si.Second, counts: si.Integers, flows: si.Table) -> None:
    """Add what flows through each link in a step; its runs take it over with their heat.

    Parameters
    ----------
    step : float [s]
    counts : array of int
    flows : array [by column]
    """
    of_width(flows, LINK_COLUMNS)
    for link in range(counts[6]):
        flows[link, LINK_FED] += flows[link, LINK_FLOW] * step


@kernel
def scale_flows(
    scale: si.Ratio,
    counts: si.Integers,
    fronts: si.Places,
    ahead: si.Places,
    moving: si.Table,
    pockets: si.Table,
    flows: si.Table,
) -> None:
    """Multiply all flows, where the cup holds less than they ask for.

    Parameters
    ----------
    scale : float [-]
    counts, fronts, ahead : array of int
    moving, pockets, flows : array [by column]
    """
    for link in range(counts[6]):
        flows[link, LINK_FLOW] *= scale
    for place in range(counts[3]):
        moving[fronts[place], FLOW] *= scale
    for place in range(counts[4]):
        pockets[ahead[place], INFLOW] *= scale
