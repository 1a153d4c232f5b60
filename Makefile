# One screen of tasks. CI calls these and nothing else. Needs python3 (3.11 or newer) and make.
PYTHON ?= python3
BIN := .venv/bin
.DEFAULT_GOAL := help
.PHONY: help setup demo serve test test-tools lint format docs bench lock clean

help:            ## list the tasks
	@sed -n 's/^\([a-z-]*\):[^#]*## /  make \1\t/p' Makefile | expand -t 20

setup: .venv/.made ## install everything from the lock into .venv

.venv/.made: uv.lock pyproject.toml tools/setup.sh
	@PYTHON="$(PYTHON)" tools/setup.sh

demo: setup      ## plan the demo trip and show it
	@$(BIN)/python tools/fresh_kernels.py
	@$(BIN)/spreadwright plan examples/demo/trip.toml

serve: setup     ## open the pages on this machine
	@$(BIN)/python tools/fresh_kernels.py
	@$(BIN)/spreadwright serve

test: setup test-tools ## lint, then every test; pytest has the last word
	@status=0; \
	$(MAKE) --no-print-directory lint || status=1; \
	$(BIN)/pytest -n 2 --benchmark-disable || status=1; \
	exit $$status

test-tools:      ## as root on Debian: install the programs some tests drive
	@tools/test-tools.sh

lint: setup      ## style, types, and which room may import which; all four speak even if one is red
	@status=0; \
	$(BIN)/ruff check --output-format concise || status=1; \
	$(BIN)/ruff format --check --output-format concise || status=1; \
	$(BIN)/lint-imports --no-logo --no-cache || status=1; \
	$(BIN)/mypy || status=1; \
	exit $$status

format: setup    ## put the code in house form
	$(BIN)/ruff check --fix
	$(BIN)/ruff format

docs: setup      ## check that pages and links agree with the tree
	$(BIN)/python tools/check_docs.py

bench: setup     ## measure speed and memory beside a peer
	@$(BIN)/python tools/fresh_kernels.py
	$(BIN)/pytest benchmarks -p no:xdist -s

lock: setup      ## after a change of dependencies: renew uv.lock
	@tools/setup.sh lock

clean:           ## remove what setup and the tests made
	rm -rf .venv .tools .mypy_cache .ruff_cache .pytest_cache .hypothesis .benchmarks
