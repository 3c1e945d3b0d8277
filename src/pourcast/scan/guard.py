"""Guard: whether a file may be handed to a library at all.

A mesh file comes from anywhere.  Before a library sees it, its kind is told
from its content, the counts in its header are held against its length, and what
is packed is unpacked while the bytes are counted.  A file that fails is refused
by name; nothing is ever written.
"""

import json
import struct
import zipfile
import zlib
from io import BytesIO
from typing import Any
from xml.etree.ElementTree import ParseError

from pourcast.errors import InputError
from pourcast.scan.model import Kind

MOST_BYTES = 200_000_000
"""Of a file; two million faces of an STL are 100 MB.  Our own choice."""

MOST_UNPACKED = 400_000_000
"""Bytes that the members of a 3MF file may come to; our own choice."""

MOST_RATIO = 200
"""Of unpacked over packed bytes; numbers as text pack to about a tenth (estimate)."""

MOST_FACES = 5_000_000
"""Of a mesh; our own choice."""

_MOST_MEMBERS = 2_000
_HEAD = 65_536  # bytes looked at to tell what a text file is
_AT_ONCE = 1_048_576
_TYPES = {
    "char": 1, "int8": 1, "uchar": 1, "uint8": 1, "short": 2, "int16": 2, "ushort": 2,
    "uint16": 2, "int": 4, "int32": 4, "uint": 4, "uint32": 4, "float": 4, "float32": 4,
    "double": 8, "float64": 8,
}  # fmt: skip


def require_size(length: int) -> None:
    """Refuse a file that is too long before it is read.

    Parameters
    ----------
    length : int
        Bytes.

    Raises
    ------
    InputError
        If it is longer than `MOST_BYTES`, or empty.
    """
    if length > MOST_BYTES:
        raise _refusal(
            f"{length / 1e6:.0f} MB long",
            f"at most {MOST_BYTES // 1_000_000} MB",
            "Thin out the mesh where it was made; 1 million faces are plenty.",
        )
    if length == 0:
        raise _refusal("empty", "a mesh", "Export the original once more.")


def kind_of(content: bytes) -> Kind:
    """Return what kind of mesh file this is, told from its content, and hold it to its limits.

    Parameters
    ----------
    content : bytes
        The whole file.

    Returns
    -------
    {"stl", "ply", "obj", "3mf", "glb"}

    Raises
    ------
    InputError
        If it is none of these, cut short, or made to do harm.
    """
    require_size(len(content))
    if content[:4] == b"glTF":
        _check_glb(content)
        return "glb"
    if content[:2] == b"PK":
        _check_3mf(content)
        return "3mf"
    if content[:4] in (b"ply\n", b"ply\r"):
        _check_ply(content)
        return "ply"
    head = content[:_HEAD]
    if len(content) >= 84 and _stl_faces(content) is not None and not _ascii_stl(head):
        _check_stl(content)
        return "stl"
    if _ascii_stl(head):
        if b"endsolid" not in content[-_HEAD:].lower():
            raise _refusal("an STL that stops before its end", "whole", "Copy the file once more.")
        return "stl"
    if b"\0" not in head and _obj_like(head):
        return "obj"
    if b"\0" in head and len(content) >= 84:
        _check_stl(content)
    raise _refusal(
        "none of the kinds that can be read",
        "STL, PLY, OBJ, 3MF or GLB by its content, whatever its name says",
        "Export the original as a mesh.",
    )


def _ascii_stl(head: bytes) -> bool:
    text = head.lstrip().lower()
    return text.startswith(b"solid") and b"facet" in text and b"\0" not in text


def _obj_like(head: bytes) -> bool:
    lines = head.split(b"\n")[:-1] if b"\n" in head else [head]
    known = (b"v ", b"v\t", b"vn ", b"vt ", b"f ", b"o ", b"g ", b"s ", b"#", b"mtllib", b"usemtl",
             b"l ", b"\r", b"p ")  # fmt: skip
    said = [line for line in lines if line.strip()]
    good = sum(line.lstrip().startswith(known) for line in said)
    corners = sum(line.lstrip().startswith((b"v ", b"v\t")) for line in said)
    return corners >= 3 and good == len(said)


def _stl_faces(content: bytes) -> int | None:
    """Return the faces that a binary STL says it has, if its length can be true."""
    (faces,) = struct.unpack_from("<I", content, 80)
    return faces if len(content) >= 84 + 50 * faces and faces > 0 else None


def _check_stl(content: bytes) -> None:
    (faces,) = struct.unpack_from("<I", content, 80)
    need = 84 + 50 * faces
    if len(content) < need:
        raise _refusal(
            f"{len(content)} bytes long, and its header names {faces} faces",
            f"{need} bytes long",
            "It is cut short or no STL; copy it once more.",
        )
    _require_faces(faces)


def _require_faces(faces: int) -> None:
    if faces > MOST_FACES:
        raise _refusal(
            f"one of {faces} faces", f"one of at most {MOST_FACES}", "Thin out the mesh."
        )


def _check_ply(content: bytes) -> None:
    end = content.find(b"end_header", 0, _HEAD)
    if end < 0:
        raise _refusal("a PLY without the end of its header", "whole", "Copy the file once more.")
    lines = content[:end].decode("ascii", "replace").split("\n")
    ascii_ = any(line.split()[:2] == ["format", "ascii"] for line in lines)
    need, count, size = 0, 0, 0
    for line in [*lines, "element end 0"]:
        words = line.split()
        if words[:1] == ["element"] and len(words) == 3:
            need += count * (2 if ascii_ else max(size, 1))
            if not words[2].isdigit():
                raise _refusal(f"a PLY with {words[2][:20]} of {words[1][:20]}", "a count", "")
            count, size = int(words[2]), 0
            if words[1] == "face":
                _require_faces(count)
        elif words[:2] == ["property", "list"]:
            size += _TYPES.get(words[2], 1) if len(words) > 2 else 1
        elif words[:1] == ["property"] and len(words) > 1:
            size += _TYPES.get(words[1], 1)
    if need > len(content) - end:
        raise _refusal(
            f"{len(content)} bytes long, and its header asks for {need} or more",
            "as long as its header says",
            "It is cut short, or its counts are wrong.",
        )


def _check_glb(content: bytes) -> None:
    if len(content) < 20:
        raise _refusal("a GLB that stops in its header", "whole", "Copy the file once more.")
    version, length, first, sort = struct.unpack_from("<IIII", content, 4)
    if version != 2 or sort != 0x4E4F534A:
        raise _refusal(f"a GLB of version {version}", "one of version 2 (glTF 2.0)", "")
    if length != len(content) or 20 + first > len(content):
        raise _refusal(
            f"{len(content)} bytes long, and its header says {max(length, 20 + first)}",
            "as long as its header says",
            "It is cut short; copy it once more.",
        )
    try:
        told = json.loads(content[20 : 20 + first])
    except (ValueError, RecursionError):
        raise _refusal("a GLB whose description cannot be read", "JSON", "") from None
    if not isinstance(told, dict):
        raise _refusal("a GLB whose description is no table", "a table", "")
    for buffer in _tables(told, "buffers"):
        if "uri" in buffer:
            raise _refusal("a GLB that leads to another file", "one file", "Export it as one.")
    if told.get("extensionsRequired"):
        raise _refusal(
            f"a GLB that needs {str(told['extensionsRequired'])[:60]}",
            "one without packed meshes",
            "Export it without compression.",
        )
    for table, key in (("accessors", "count"), ("bufferViews", "byteLength")):
        for entry in _tables(told, table):
            count = entry.get(key, 0)
            if not isinstance(count, int) or not 0 <= count <= len(content):
                raise _refusal(
                    f"a GLB with a {key} of {str(count)[:20]}",
                    f"0 to {len(content)}, the length of the file",
                    "",
                )


def _tables(told: dict[str, Any], key: str) -> list[dict[str, Any]]:
    found = told.get(key, [])
    if not isinstance(found, list) or not all(isinstance(entry, dict) for entry in found):
        raise _refusal(f"a GLB whose {key} are no list of tables", "as glTF 2.0 says", "")
    return found


_DAMAGED = (
    *(zipfile.BadZipFile, zlib.error, struct.error, EOFError, OSError, OverflowError),
    *(NotImplementedError, RuntimeError, ValueError, LookupError),
)
"""What Python's reader of packages stumbles over in damaged ones."""


def _check_3mf(content: bytes) -> None:
    from defusedxml import DefusedXmlException  # type: ignore[import-untyped]
    from defusedxml.ElementTree import iterparse  # type: ignore[import-untyped]

    try:
        with zipfile.ZipFile(BytesIO(content)) as packed:
            members = packed.infolist()
            _check_members(members)
            left = MOST_UNPACKED
            for member in members:
                unpacked = bytearray() if member.filename.endswith(".model") else None
                left -= _counted(packed, member, left, len(content), unpacked)
                if unpacked is not None:
                    for _, node in iterparse(BytesIO(bytes(unpacked)), forbid_dtd=True):
                        node.clear()
    except InputError:
        raise
    except DefusedXmlException:
        raise _refusal(
            "a 3MF with entities or a document type in it", "one without", "It may be harmful."
        ) from None
    except ParseError:
        raise _refusal("a 3MF whose model cannot be read", "XML", "Export it again.") from None
    except _DAMAGED:
        raise _refusal("a package that is damaged or locked", "whole", "Copy it again.") from None
    if not any(member.filename.lower().endswith(".model") for member in members):
        raise _refusal("a package without a model in it", "a 3MF", "Export it as 3MF.")


def _check_members(members: list[zipfile.ZipInfo]) -> None:
    if len(members) > _MOST_MEMBERS:
        raise _refusal(f"a package of {len(members)} files", f"at most {_MOST_MEMBERS}", "")
    for member in members:
        steps = member.filename.replace("\\", "/").split("/")
        if ".." in steps or member.filename.startswith(("/", "\\")) or ":" in steps[0]:
            raise _refusal(
                f"a package with a file that leads outside: {member.filename[:60]!r}",
                "one whose files stay inside",
                "It may be harmful.",
            )


def _counted(
    packed: zipfile.ZipFile, member: zipfile.ZipInfo, left: int, length: int, into: bytearray | None
) -> int:
    """Unpack a member while its bytes are counted; what it says of its size is not believed."""
    most = min(left, MOST_RATIO * max(length, 1000))
    count = 0
    with packed.open(member) as opened:
        while some := opened.read(_AT_ONCE):
            count += len(some)
            if count > most:
                raise _refusal(
                    f"a package that unpacks to more than {most / 1e6:.0f} MB",
                    f"at most {MOST_RATIO} times its own size and {MOST_UNPACKED // 1_000_000} MB",
                    "It may be harmful.",
                )
            if into is not None:
                into += some
    return count


def _refusal(value: str, must: str, hint: str) -> InputError:
    return InputError("scan file", value, "", must, hint)
