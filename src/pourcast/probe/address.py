"""Address: where does a thermometer of its own speak, as one writes it on the command line?

    serial:/dev/ttyUSB0?baud=9600&unit=F
    mqtt://192.168.1.20/kiln/temperature?unit=C
    mqtts://caster@kiln.example:8883/kiln/#?path=sensor.value&time=sensor.at&wall=flask-probe

``place`` is where a reading stands that names no place; ``kiln``, ``flask``, ``core`` and
``metal`` say what this thermometer calls each place.  A password never stands here: it
is read from the environment (`pourcast.probe.broker.PASSWORD`).
"""

from urllib.parse import parse_qsl, unquote, urlsplit

from pourcast.day.typed import PLACES
from pourcast.errors import InputError
from pourcast.probe.model import Source

SUCH_AS = (
    "such as serial:/dev/ttyUSB0?baud=9600 or mqtt://192.168.1.20/kiln/temperature; behind a ? may "
    "stand unit=C|F|K, place=kiln|flask|core|metal, path=a.b, time=a.c"
)

UNITS = {"C": "degC", "F": "F", "K": "K"}
_OWN = ("kiln", "flask", "core", "metal")
_KEYS = ("unit", "place", "path", "time", "baud", *_OWN)


def source_of(text: str) -> Source:
    """Return the thermometer of an address.

    Parameters
    ----------
    text : str

    Returns
    -------
    Source

    Raises
    ------
    InputError
        If it is no such address.

    Examples
    --------
    >>> source_of("serial:/dev/ttyUSB0?unit=F").unit
    'F'
    """
    try:
        parts = urlsplit(text.replace("#", "%23"))
        port = parts.port
        pairs = parse_qsl(parts.query, keep_blank_values=True, strict_parsing=bool(parts.query))
    except ValueError as fault:
        raise _refused(text) from fault
    asked = dict(pairs)
    if len(asked) != len(pairs) or set(asked) - set(_KEYS):
        raise _refused(text)
    place = asked.get("place", "kiln")
    unit = asked.get("unit", "C").upper()
    baud = asked.get("baud", "9600")
    if place not in PLACES or unit not in UNITS or not baud.isdigit() or int(baud) < 1:
        raise _refused(text)
    names = tuple((asked[key].strip().lower(), PLACES[key]) for key in _OWN if key in asked)
    path, time_path = (
        tuple(key for key in asked.get(which, "").split(".") if key) for which in ("path", "time")
    )
    if parts.scheme == "serial" and not parts.netloc and parts.path:
        return Source(
            kind="line",
            address=unquote(parts.path),
            baud=int(baud),
            place=PLACES[place],
            names=names,
            unit=UNITS[unit],
            path=path,
            time_path=time_path,
        )
    topic = unquote(parts.path).lstrip("/")
    if parts.scheme not in ("mqtt", "mqtts") or not parts.hostname or not topic:
        raise _refused(text)
    if parts.password is not None:
        raise InputError(
            "thermometer", "a password in its address", "", "read from the environment"
        )
    secure = parts.scheme == "mqtts"
    return Source(
        kind="broker",
        address=parts.hostname,
        port=port or (8883 if secure else 1883),
        secure=secure,
        topic=topic,
        user=unquote(parts.username or ""),
        place=PLACES[place],
        names=names,
        unit=UNITS[unit],
        path=path,
        time_path=time_path,
    )


def _refused(text: str) -> InputError:
    return InputError("thermometer", text[:80], "", SUCH_AS)
