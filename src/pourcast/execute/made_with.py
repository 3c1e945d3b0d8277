"""Made with: by what was an answer worked out, so that it can be had again?

The same inputs, draws and seed give the same answer with the same sources, values, numpy,
numba and Python, on one kind of machine and with any number of threads or workers.  So an
answer that is kept says all of these.  On another kind of processor the compiled kernels
add in another order and the library of the system may round a logarithm otherwise in its
last bit; docs/same-again.md says how far that moved a forecast.
"""

import os
import platform
from functools import cache
from importlib.metadata import version

from llvmlite import binding

from pourcast.execute.carry import release


@cache
def made_with() -> dict[str, str]:
    """Return what an answer of this process is made with, by name.

    Returns
    -------
    dict of str to str
        release_sha256 (of sources, values, numpy, numba and Python), python, numpy, numba,
        system, machine (its architecture), library (of the system, where it has a name) and
        processor (that the kernels are compiled for).
    """
    library = " ".join(part for part in platform.libc_ver() if part)
    return {
        "release_sha256": release(),
        "python": platform.python_version(),
        "numpy": version("numpy"),
        "numba": version("numba"),
        "system": platform.system(),
        "machine": platform.machine(),
        "library": library or "unnamed",
        "processor": os.environ.get("NUMBA_CPU_NAME") or binding.get_host_cpu_name(),
    }
