# Needs python3 (3.11 to 3.14), make and git. Every target sets up what it needs; `make help` lists them.

VENV   := .venv
BIN    := $(VENV)/bin
READY  := $(VENV)/.ready
LINKS  := build/namespace/facewright
BRIEF  ?= runs/harbour-dues.toml

# The first Python that is new enough; PYTHON=… chooses another. It counts only while .venv does not exist.
NEW_ENOUGH := import sys; sys.exit(not (3, 11) <= sys.version_info[:2] <= (3, 14))
PYTHON ?= $(shell for p in python3 python3.13 python3.12 python3.11 python3.14; do \
	$$p -c '$(NEW_ENOUGH)' 2>/dev/null && echo $$p && break; done)

.DEFAULT_GOAL := help
.PHONY: help setup demo fair test check solids atlas bench bench-quick quality lock clean

help: ## list the targets
	@grep -E '^[a-z-]+:.*## ' $(MAKEFILE_LIST) | sed -E 's/^([a-z-]+):.*## /\1\t/' | expand -t 14

setup: $(READY) ## make .venv from the lock and put facewright into it, once

demo: $(READY) ## answer the demo brief and say where its report lies (BRIEF=… takes another)
	@$(BIN)/facewright find $(BRIEF) --replace

fair: $(READY) ## a whole decision: from three briefs to the order of their products, and sheets of the best two
	@for brief in harbour-dues night-watch pilot-die; do \
		$(BIN)/facewright find runs/$$brief.toml --quiet > /dev/null || exit 1; done
	@$(BIN)/facewright find runs/spring-fair.toml

test: $(READY) ## run the tests (ARGS=… goes to pytest)
	@$(BIN)/pytest -n auto --dist worksteal $(ARGS)

check: $(READY) $(LINKS) ## lint, formatting and types
	@$(BIN)/ruff check
	@$(BIN)/ruff format --check
	@$(BIN)/mypy

solids: $(READY) ## draw the solids and write their table in docs/reference
	@$(BIN)/python -m facewright.search.report.solids_page

atlas: $(READY) ## answer the plans of docs/atlas, about half an hour, and write its tables and pages; goes on where it was stopped
	@for plan in totals-on-two two-dice-on-three three-dice-on-three readouts; do \
		$(BIN)/facewright batch docs/atlas/$$plan.toml --out runs/atlas/$$plan --retry || exit 1; done
	@$(BIN)/python -m facewright.search.report.atlas runs/atlas docs/atlas

quality: $(READY) ## the slow checks: known hard designs within a stated time
	@$(BIN)/pytest -m quality $(ARGS)

bench: $(READY) ## measure the engines (bench-quick: the short form)
	@$(BIN)/python tests/bench/run.py $(ARGS)

bench-quick: $(READY)
	@$(BIN)/python tests/bench/run.py --quick $(ARGS)

lock: $(READY) ## write requirements.lock anew from pyproject.toml (ARGS=--upgrade for newer versions)
	@$(BIN)/uv pip compile --quiet --universal --python-version 3.11 --generate-hashes --extra dev \
		--no-header --no-annotate --no-emit-index-url $(ARGS) pyproject.toml --output-file requirements.lock
	@! grep -n '://' requirements.lock

clean: ## remove all that these targets made, .venv included; runs stay
	@rm -rf $(VENV) build dist *.egg-info .pytest_cache .mypy_cache .ruff_cache .hypothesis
	@find constraints search tests -name __pycache__ -type d -prune -exec rm -rf {} +

# uv itself comes from the lock, with its hashes; where uv finds no registry (it does not read pip's settings), pip does it.
$(READY): requirements.lock pyproject.toml
	@test -x $(BIN)/python || $(PYTHON) -c '$(NEW_ENOUGH)' 2>/dev/null || { \
		echo "make: Python 3.11 to 3.14 is needed, found $$($(or $(PYTHON),python3) --version 2>/dev/null || echo none)." \
			"Install one of them, or name it: make PYTHON=/path/to/python3.12" >&2; exit 1; }
	@test -x $(BIN)/python || $(PYTHON) -m venv $(VENV) || { rm -rf $(VENV); \
		echo "make: '$(PYTHON) -m venv' failed; some systems pack it apart, as python3-venv" >&2; exit 1; }
	@sed -n '/^uv==/,/[^\\]$$/p' requirements.lock > $(VENV)/uv.lock
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r $(VENV)/uv.lock
	@$(BIN)/uv pip sync --quiet --require-hashes --python $(BIN)/python requirements.lock || \
		$(BIN)/python -m pip install --disable-pip-version-check --require-hashes -r requirements.lock
	@$(BIN)/uv pip install --quiet --python $(BIN)/python --no-deps --no-build-isolation --editable .
	@touch $@

# Type checkers follow no editable install; these links show them the two folders as one namespace package.
$(LINKS):
	@mkdir -p $@
	@ln -sfn ../../../search $@/search
	@ln -sfn ../../../constraints $@/constraints
