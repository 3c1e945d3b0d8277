"""Try the wheel: in a new environment, from a folder of wheels, with no network.

``make release-check`` runs it.  It builds source and wheel, gathers the wheels that
pourcast needs, installs them where nothing else is, and does there what a caster does
first: a sheet, a forecast, a run sheet, the pages.
"""

import argparse
import json
import os
import shutil
import subprocess
import sys
import tempfile
import time
import urllib.request
import venv
from pathlib import Path

ROOT = Path(__file__).parents[1]


def main() -> int:
    """Return 0 if the wheel does what a caster does first."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--extras", default="scan,probe,cluster,table,plot,shared")
    parser.add_argument("--keep", type=Path, help="folder for the wheels, kept afterwards")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        wheels = asked.keep or folder / "wheels"
        wheel = build(ROOT / "dist")
        gather(wheel, asked.extras, wheels)
        program = install(wheel, asked.extras, wheels, folder / "venv")
        cast(program, folder)
    print(f"The wheel works: {wheel.name}, with [{asked.extras}], from wheels alone.")
    return 0


def run(*words: str | Path, folder: Path | None = None, cut: bool = False) -> str:
    """Return what a command printed; ``cut``: with no network, where that can be had."""
    line = [str(word) for word in words]
    if cut and shutil.which("unshare") and os.name == "posix" and os.geteuid() == 0:
        line = ["unshare", "-n", *line]
    clean = {key: value for key, value in os.environ.items() if not key.startswith("PYTHON")}
    done = subprocess.run(
        line, cwd=folder, env=clean, capture_output=True, text=True, check=False, timeout=600
    )
    if done.returncode:
        raise SystemExit(f"{' '.join(line)}\nended with {done.returncode}\n{done.stderr[-3000:]}")
    return done.stdout


def build(folder: Path) -> Path:
    """Return the wheel, made from the source archive and not from the checkout."""
    shutil.rmtree(folder, ignore_errors=True)
    run(sys.executable, "-m", "hatchling", "build", "-t", "sdist", "-d", folder, folder=ROOT)
    source = next(folder.glob("*.tar.gz"))
    with tempfile.TemporaryDirectory() as name:
        shutil.unpack_archive(source, name, filter="data")
        unpacked = next(Path(name).iterdir())
        run(
            sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", folder, folder=unpacked
        )
    return next(folder.glob("*.whl"))


def gather(wheel: Path, extras: str, wheels: Path) -> None:
    """Fill a folder with every wheel that pourcast and its extras need."""
    wheels.mkdir(parents=True, exist_ok=True)
    pip = (sys.executable, "-m", "pip", "--disable-pip-version-check", "download", "-q")
    run(*pip, "--only-binary", ":all:", "-d", wheels, f"{wheel}[{extras}]")


def install(wheel: Path, extras: str, wheels: Path, place: Path) -> Path:
    """Return the installed program; nothing is fetched."""
    venv.create(place, with_pip=True)
    python = place / "bin" / "python"
    pip = (python, "-m", "pip", "--disable-pip-version-check", "install", "-q", "--no-index")
    run(*pip, "--find-links", wheels, f"{wheel}[{extras}]", cut=True)
    return place / "bin" / "pourcast"


def cast(program: Path, folder: Path) -> None:
    """Do what a caster does first, and look at what comes out."""
    about = json.loads(run(program, "about", "--json", folder=folder, cut=True))
    expect(all(about["libraries"].values()), f"libraries missing: {about['libraries']}")
    run(program, "new", "twig.toml", folder=folder, cut=True)
    shutil.copy(ROOT / "examples" / "larch_twig.toml", folder)
    print(run(program, "weigh", "larch_twig.toml", folder=folder, cut=True).splitlines()[0])
    text = run(
        program, "forecast", "larch_twig.toml", "--json", "--draws", "100", folder=folder, cut=True
    )
    forecast = json.loads(text)
    expect(0 <= forecast["fill"]["chance_all"] <= 1, "no chance in the forecast")
    start = ("--start", "2026-05-02 18:30")
    sheet = folder / "sheet.pdf"
    run(program, "runsheet", "larch_twig.toml", *start, "--pdf", sheet, folder=folder, cut=True)
    expect(sheet.read_bytes().startswith(b"%PDF"), "the run sheet is no PDF")
    page(program, folder)


def page(program: Path, folder: Path) -> None:
    """Open the pages on a port of this machine and fetch the shelf."""
    port = "8957"
    words = [str(program), "open", "--no-browser", "--port", port, "--data", str(folder / "data")]
    serving = subprocess.Popen(words, cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.STDOUT)
    try:
        text = ""
        for _ in range(100):
            try:
                with urllib.request.urlopen(f"http://127.0.0.1:{port}/", timeout=10) as answer:
                    text = answer.read().decode()
                break
            except OSError:
                time.sleep(0.2)
        expect("</html>" in text, "the pages do not open")
    finally:
        serving.terminate()
        serving.wait(timeout=20)


def expect(held: bool, otherwise: str) -> None:
    """Stop, with a reason, unless it held."""
    if not held:
        raise SystemExit(otherwise)


if __name__ == "__main__":
    sys.exit(main())
