# Everything a person needs: `make demo` runs the main job, `make test` all tests.
# Both set up what they need in .venv, from nothing but Python 3.11+, git and make.

PYTHON ?= $(shell command -v python3.11 || command -v python3)
VENV := .venv
BIN := $(VENV)/bin
APP := $(VENV)/.app-installed
DEV := $(VENV)/.dev-installed
PIP := $(BIN)/python -m pip --disable-pip-version-check --quiet

.PHONY: demo test test-slow lint format bench clean help

help:
	@echo "make demo       set up and run the main job on the built-in demo (pictures and report in demo-out/)"
	@echo "make test       set up, check style and types, run all tests"
	@echo "make test-slow  the tests that take minutes"
	@echo "make bench      measurements, each a ratio in one run"
	@echo "make lint       style and types only"

$(VENV)/bin/python:
	@sh tools/make_venv.sh "$(PYTHON)" "$(VENV)"

PAGES := $(shell find web-ui -type f -not -path '*/node_modules/*' 2>/dev/null)

$(APP): $(VENV)/bin/python pyproject.toml constraints.txt hatch_build.py $(PAGES)
	@echo "Installing Leadsman and what it needs into $(VENV) ..."
	@$(PIP) install --constraint constraints.txt --editable .
	@touch $@

$(DEV): $(APP)
	@echo "Installing what the tests need ..."
	@$(PIP) install --constraint constraints.txt --editable '.[dev]'
	@touch $@

demo: $(APP)
	@$(BIN)/leadsman demo --out demo-out

lint: $(DEV)
	@$(BIN)/ruff check .
	@$(BIN)/ruff format --check .
	@$(BIN)/mypy

format: $(DEV)
	@$(BIN)/ruff check --fix .
	@$(BIN)/ruff format .

test: $(DEV) lint
	@$(BIN)/leadsman warmup
	@$(BIN)/pytest -n 2 -m "not slow"

test-slow: $(DEV)
	@$(BIN)/pytest -m slow

bench: $(DEV)
	@for script in bench/*.py; do echo "== $$script"; $(BIN)/python $$script || exit 1; done

clean:
	rm -rf $(VENV) demo-out .pytest_cache .mypy_cache .ruff_cache
