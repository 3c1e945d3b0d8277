# Sets itself up: every target makes .venv first, from wheels only.
# PYTHON chooses the interpreter, WORKERS the processes of a test run.

PYTHON ?= python3
WORKERS ?= auto
PIECE ?= examples/sea_holly.toml

VENV := .venv
BIN := $(VENV)/bin
# Without bytecode each start of the program takes two to three times as long.
RUN := env -u PYTHONDONTWRITEBYTECODE
PIP := $(RUN) $(BIN)/python -m pip --disable-pip-version-check install --only-binary :all:
NAME := $(basename $(notdir $(PIECE)))
BROWSER = $$(command -v chromium || command -v chromium-browser || true)

.PHONY: demo test check bench speed check-long checks-table mutation services screenshots docs release release-check clean
.DELETE_ON_ERROR:

demo: $(VENV)/installed
	@mkdir -p out
	@$(RUN) $(BIN)/pourcast forecast $(PIECE) --page out/$(NAME).html
	@$(RUN) $(BIN)/pourcast forecast $(PIECE) --json > out/$(NAME).json
	@echo
	@browser="$(BROWSER)"; if [ -n "$$browser" ]; then \
	  "$$browser" --headless --no-sandbox --hide-scrollbars --window-size=1280,1140 \
	    --screenshot="$(CURDIR)/out/$(NAME).png" "file://$(CURDIR)/out/$(NAME).html" \
	    > out/browser.log 2>&1 && echo "Picture:  out/$(NAME).png" \
	    || echo "No picture: the browser failed, see out/browser.log."; \
	else echo "No picture: chromium is not installed."; fi
	@$(RUN) $(BIN)/pourcast runsheet $(PIECE) --start "$$(date +%Y-%m-%d) 18:30" \
	  --pdf out/$(NAME).pdf > /dev/null && echo "Run sheet: out/$(NAME).pdf"
	@echo "As JSON:  out/$(NAME).json"
	@echo "Open the page in any browser; it needs no network:"
	@echo "file://$(CURDIR)/out/$(NAME).html"
	@echo "Turn its knobs, keep a shelf of pieces, follow the kiln day:"
	@echo "$(BIN)/pourcast open $(PIECE)"

# The kernels are compiled once for all workers, on the core that the checks leave free.
test: $(VENV)/installed-dev services
	@$(RUN) $(BIN)/python tools/compile_kernels.py > /dev/null 2>&1 & kernels=$$!; \
	$(MAKE) --no-print-directory check || { kill $$kernels; exit 1; }; \
	wait $$kernels || echo "The kernels were not compiled beforehand; the tests say why."
	$(RUN) $(BIN)/python -m pytest -n $(WORKERS) --dist loadfile -m "not long"

check: $(VENV)/installed-dev
	$(RUN) $(BIN)/ruff check .
	$(RUN) $(BIN)/ruff format --check .
	$(RUN) $(BIN)/mypy

bench: $(VENV)/installed-bench
	@for file in benchmarks/bench_*.py benchmarks/peers_*.py; do \
	  [ -e "$$file" ] || { echo "There is no benchmark yet."; exit 0; }; \
	  echo "$$file"; $(RUN) $(BIN)/python "$$file" || exit 1; \
	done

# Costs and what limits them, and what general solvers take, measured into docs/speed.md; wants a
# quiet machine.
speed: $(VENV)/installed-bench
	$(RUN) $(BIN)/python benchmarks/write_speed.py

# All outside checks and slow studies, hours of them; their rows go into docs/checks.md. What is
# done is kept under out/ until a source changes. FILES chooses test files or folders.
check-long: services $(if $(FILES),,checks-table)
	WORKERS=$(WORKERS) $(RUN) $(BIN)/python tools/check_long.py $(FILES)

# Wheel and source archive in dist/, tried in a new environment from a folder of wheels.
release-check: $(VENV)/installed-dev
	$(RUN) $(BIN)/python tools/try_wheel.py

# The same for a tagged commit: vVERSION must stand on it, and nothing may be changed.
release:
	@[ -z "$$(git status --porcelain)" ] || { echo "There are changes; commit them first."; exit 1; }
	@version=$$(sed -n 's/^version = "\(.*\)"/\1/p' pyproject.toml); \
	git tag --points-at HEAD | grep -qx "v$$version" \
	  || { echo "This commit has no tag v$$version: git tag -a v$$version"; exit 1; }; \
	! grep -q "^## \[$$version\] - unreleased" CHANGELOG.md \
	  || { echo "CHANGELOG.md calls $$version unreleased; give it a date."; exit 1; }
	@$(MAKE) release-check

# The whole quick run again; its outside numbers go into docs/checks.md and README.md, with the
# answer of the worked example.
checks-table: $(VENV)/installed-dev
	POURCAST_WRITE_TABLE=quick $(RUN) $(BIN)/python -m pytest -n $(WORKERS) --dist loadfile -m "not long"
	$(RUN) $(BIN)/python tools/demo_text.py

# One thing made wrong at a time, in a copy under out/: does a test go red?  Writes docs/mutation.md;
# a run that was broken off goes on where it stood.
mutation: $(VENV)/installed-dev
	@mkdir -p out
	$(RUN) $(BIN)/python -u -m tests.mutation.run

# Needs of some tests only: a browser, a database server and a broker of readings.
# Without one, its tests are skipped and say so.
services:
	@missing=""; \
	[ -n "$(BROWSER)" ] || missing="$$missing chromium"; \
	ls /usr/lib/postgresql/*/bin/postgres > /dev/null 2>&1 || missing="$$missing postgresql"; \
	command -v /usr/sbin/mosquitto > /dev/null || missing="$$missing mosquitto"; \
	if [ -z "$$missing" ]; then :; \
	elif [ "$$(id -u)" = 0 ] && command -v apt-get > /dev/null; then \
	  echo "Installing for the tests:$$missing"; \
	  { apt-get update && for name in $$missing; do \
	      DEBIAN_FRONTEND=noninteractive RUNLEVEL=1 apt-get install -y $$name; done; } \
	    || echo "Not all were installed; the tests that need them are skipped."; \
	else echo "Missing, so their tests are skipped:$$missing"; fi

# Pictures of every page, 1280 and 360 px wide, into docs/screens.
screenshots: $(VENV)/installed-dev services
	$(RUN) $(BIN)/python docs/screens.py

# The site of documents, in docs/_build/html; a warning is an error, and nothing is fetched.
docs: $(VENV)/installed-dev
	$(RUN) $(BIN)/python -m sphinx -W --keep-going -E -q -b html docs docs/_build/html
	@echo "Open it in any browser: file://$(CURDIR)/docs/_build/html/index.html"

$(VENV)/installed: pyproject.toml | $(BIN)/python
	$(PIP) --editable '.[scan]'
	touch $@

# Bytecode of what the tests never import is left out: writing it takes a third of the set-up.
$(VENV)/installed-dev: pyproject.toml | $(BIN)/python
	$(PIP) --no-compile --editable '.[dev]'
	touch $(VENV)/installed $@

$(VENV)/installed-bench: pyproject.toml | $(BIN)/python
	$(PIP) --editable '.[dev,bench]'
	touch $(VENV)/installed $(VENV)/installed-dev $@

$(BIN)/python:
	@command -v $(PYTHON) > /dev/null || { \
	  echo "There is no $(PYTHON). Install Python 3.11 or newer, or say which: make PYTHON=..."; \
	  exit 1; }
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || { \
	  echo "$$($(PYTHON) --version) is too old; pourcast needs Python 3.11 or newer."; \
	  echo "Say which to use: make PYTHON=python3.12 ..."; exit 1; }
	@$(PYTHON) -c 'import ensurepip, venv' 2> /dev/null || { \
	  if [ "$$(id -u)" = 0 ] && command -v apt-get > /dev/null; then \
	    echo "python3-venv is missing; installing it."; \
	    apt-get update && apt-get install -y python3-venv; \
	  else \
	    echo "python3-venv is missing. On Debian and Ubuntu: apt-get install python3-venv"; \
	    exit 1; \
	  fi; }
	$(PYTHON) -m venv $(VENV) || { rm -rf $(VENV); exit 1; }

clean:
	rm -rf out build dist docs/_build .mypy_cache .ruff_cache .pytest_cache .hypothesis
	find src tests -name __pycache__ -type d -prune -exec rm -rf {} +
