"""What a graphics card is worth for filling draws and for freezing in cells.

Prints, and writes to the file named by the first argument: seconds on one core, on all
cores and on the card in one run; the largest difference of each output; compile time
apart; the share of the card's memory bandwidth, beside a triad on the same card.  The
card runs the kernels of `pourcast.pour` and `pourcast.freeze` as they stand: their
sources are compiled anew for the card, with all that they call.

Needs numba-cuda and a card; neither is needed by pourcast.
"""

import json
import math
import os
import pickle
import sys
import time
import traceback
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numba
import numpy as np

sys.path.insert(0, str(Path(__file__).parent.parent))

from bench_voxel import triad_rate
from gpu_card import card_triad_rate, cuda
from gpu_cells import freezing
from gpu_pour import filling
from tests.pour.cases import spray, uncertain

from pourcast.kernels import sources_hash

DATA_SHEET = {"H100": 3.35e12, "H200": 4.8e12}  # bytes/s, maker's data sheet of the SXM card


def main() -> None:
    """Measure all, and write it."""
    if not cuda.is_available():
        print("no card, or no driver for one: nothing to measure")
        return
    target = Path(sys.argv[1] if len(sys.argv) > 1 else "bench_gpu.json")
    cores = os.cpu_count() or 1
    name = cuda.get_current_device().name
    name = name.decode() if isinstance(name, bytes) else name
    said: dict[str, Any] = {"card": name, "cores": cores, "sources": sources_hash()}
    said |= {"numba": numba.__version__, "numpy": np.__version__, "python": sys.version}
    rate = card_triad_rate()
    sheet = next((value for key, value in DATA_SHEET.items() if key in name), math.nan)
    said |= {"triad_bytes_s": rate, "triad_over_data_sheet": rate / sheet}
    said["core_triad_bytes_s"] = triad_rate(30_000_000)
    print(json.dumps(said), flush=True)

    def kept(key: str, work: Callable[[], Any]) -> None:
        begun = time.perf_counter()
        try:
            said[key] = work()
        except Exception as fault:
            said[key] = repr(fault)
            traceback.print_exc()
        print(key, f"{time.perf_counter() - begun:.0f} s", flush=True)
        target.write_text(json.dumps(said, indent=1))

    kept("cells 2 million", lambda: freezing(1e-3, 1200.0, 10**6, cores, rate, compile_first=True))
    network = spray()
    sizes = (1000, 10_000, 100_000, 1_000_000)
    kept(
        "plant, gravity",
        lambda: filling("plant", network, uncertain(network, 100_000), sizes, cores),
    )
    kept(
        "cells 20 million", lambda: freezing(0.465e-3, 1200.0, 40, cores, rate, compile_first=False)
    )
    if len(sys.argv) > 2:
        example = pickle.loads(Path(sys.argv[2]).read_bytes())
        kept("example piece", lambda: filling("example", example[0], example[1], (10_000,), cores))
    kept(
        "plant, vacuum",
        lambda: filling(
            "vacuum", network, uncertain(network, 10_000, vacuum=60e3), (10_000,), cores
        ),
    )


if __name__ == "__main__":
    main()
