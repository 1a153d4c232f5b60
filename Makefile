# One screen of tasks; CI calls these and nothing else.
SHELL := /bin/sh
PYTHON ?= python3
BIN := .venv/bin
.PHONY: help setup test lint clean

help:            ## list the tasks
	@sed -n 's/^\([a-z-]*\):[^#]*## /  make \1\t/p' Makefile

setup: .venv/.made ## install everything from the lock into .venv

.venv/.made: uv.lock pyproject.toml tools/setup.sh
	@PYTHON=$(PYTHON) tools/setup.sh

clean:           ## remove what setup and the tests made
	rm -rf .venv .tools .mypy_cache .ruff_cache .pytest_cache .hypothesis .import_linter_cache
