# The floor is make, pip and Python 3.11 or newer. `make run` serves the workbench, `make test` runs the tests.

VENV   ?= .venv
PYTHON ?= $(shell for name in python3.11 python3.12 python3.13 python3.14 python3 python; do \
	if "$$name" -c 'import sys; sys.exit(sys.version_info < (3, 11))' >/dev/null 2>&1; then echo "$$name"; break; fi; done)
PORT   ?=
BIN    := $(VENV)/bin
PIP    := $(BIN)/python -m pip --disable-pip-version-check --no-input --quiet --quiet
LOCKED := $(PIP) install --require-hashes --only-binary :all:

# Compiled kernels are kept beside the sources that they belong to, so that `make clean` takes them along.
export OVENTIDE_CACHE ?= $(CURDIR)/build/kernels
export PYTHONUTF8 := 1

KERNEL_SOURCES := $(wildcard $(addprefix src/oventide/,compiled.py matter/*.py laws/*.py dough/*.py bake/*.py timeline/*.py))

# A virtual environment knows where it was built. In a checkout that was moved or copied the stamps do not count.
ifneq ($(shell cat $(VENV)/.built-in 2>/dev/null),$(CURDIR))
$(shell rm -f $(VENV)/.run.stamp $(VENV)/.dev.stamp)
endif

.DEFAULT_GOAL := help
.PHONY: help run warm test test-slow lint validate bench docs lock check clean chromium
.NOTPARALLEL:

help:
	@echo 'make run        build .venv, warm the compiled kernels, serve the workbench on 127.0.0.1 (PORT=n for another port)'
	@echo 'make test       everything that tests need, then the tests'
	@echo 'make test-slow  the tests that take long, and only those'
	@echo 'make lint       ruff, mypy, import contracts'
	@echo 'make validate   every published figure beside ours, into docs/validation.md and build/validation.json'
	@echo 'make docs       the documentation, into build/site'
	@echo 'make bench      how fast the kernels are, as ratios, into build/bench.json and docs/speed.md'
	@echo 'make check      what CI runs: lint, validate, docs, test-slow, test'
	@echo 'make warm       compile the kernels now'
	@echo 'make lock       resolve the two lock files anew'
	@echo 'make clean      remove .venv and build'

# --- set-up ---------------------------------------------------------------------------------------------------

$(VENV)/.built-in:
	@if [ -z "$(PYTHON)" ]; then \
		echo 'Oventide needs Python 3.11 or newer and found none. Install it (Debian and Ubuntu: apt install python3 python3-venv),'; \
		echo 'or name it: make run PYTHON=/path/to/python3.11'; exit 1; fi
	@"$(PYTHON)" -c 'import sys; sys.exit(sys.version_info < (3, 11))' >/dev/null 2>&1 || { \
		echo 'Oventide needs Python 3.11 or newer; $(PYTHON) is older or does not run. Name another: make run PYTHON=/path/to/python3.11'; exit 1; }
	@"$(PYTHON)" -c 'import venv, ensurepip' 2>/dev/null || { \
		echo '$(PYTHON) cannot build a virtual environment: its venv part is missing. Debian and Ubuntu: apt install python3-venv'; exit 1; }
	@echo 'building $(VENV) with $(PYTHON)'
	@"$(PYTHON)" -m venv $(VENV)
	@printf '%s' "$(CURDIR)" > $@

$(VENV)/.run.stamp: requirements.lock pyproject.toml | $(VENV)/.built-in
	@echo 'installing requirements.lock (about 650 MB on disk, once)'
	@$(LOCKED) -r requirements.lock
	@$(PIP) install --no-deps --no-build-isolation --editable .
	@printf '%s' "$(CURDIR)" > $(VENV)/.built-in
	@touch $@

$(VENV)/.dev.stamp: requirements-dev.lock pyproject.toml | $(VENV)/.built-in
	@echo 'installing requirements-dev.lock (about 1 GB on disk, once)'
	@$(LOCKED) -r requirements-dev.lock
	@$(PIP) install --no-deps --no-build-isolation --editable .
	@printf '%s' "$(CURDIR)" > $(VENV)/.built-in
	@touch $@

build/warm.stamp: $(KERNEL_SOURCES) | $(VENV)/.run.stamp
	@echo 'compiling the kernels (a minute or so, once after a change to a law)'
	@mkdir -p build
	@$(BIN)/oventide warm
	@touch $@

warm: $(VENV)/.run.stamp
	@rm -f build/warm.stamp
	@$(MAKE) --no-print-directory build/warm.stamp

lock: | $(VENV)/.built-in
	@test -x build/lock-venv/bin/python || $(BIN)/python -m venv build/lock-venv
	@build/lock-venv/bin/python -m pip --disable-pip-version-check install uv
	build/lock-venv/bin/python tools/lock.py

# --- the two commands -----------------------------------------------------------------------------------------

run: $(VENV)/.run.stamp build/warm.stamp
	@$(BIN)/oventide serve $(if $(PORT),--port $(PORT))

test: $(VENV)/.dev.stamp chromium
	@mkdir -p build
	$(BIN)/python -m pytest --cov=oventide --cov-report=term:skip-covered $(ARGS)

# --- checks ---------------------------------------------------------------------------------------------------

chromium: $(VENV)/.dev.stamp
	@$(BIN)/python tools/chromium.py

test-slow: $(VENV)/.dev.stamp chromium
	$(BIN)/python -m pytest -m slow --durations=15 $(ARGS)

lint: $(VENV)/.dev.stamp
	$(BIN)/python -m ruff check src tests tools benchmarks validation conftest.py
	$(BIN)/python -m ruff format --check src tests tools benchmarks validation conftest.py
	$(BIN)/python -m mypy
	$(BIN)/python -c "from importlinter.cli import lint_imports_command as check; check()" --no-cache --no-logo

# ARGS='--only bake' runs the checks with that word and writes no book
validate: $(VENV)/.dev.stamp
	$(BIN)/python -m validation $(ARGS)

docs: $(VENV)/.dev.stamp
	$(BIN)/python -m mkdocs build --strict
	@echo 'documents: build/site/index.html'

bench: $(VENV)/.dev.stamp
	@mkdir -p build
	$(BIN)/python -m pytest benchmarks --ignore=benchmarks/numpy_oven.py -o python_files='test_*.py bench_*.py' --benchmark-only --benchmark-json=build/bench-cases.json --benchmark-disable-gc $(ARGS)
	$(BIN)/python tools/bench.py build/bench-cases.json
	$(BIN)/python -m benchmarks.ratios

check: lint validate docs test-slow test

clean:
	rm -rf $(VENV) build
