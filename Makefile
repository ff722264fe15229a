# The two a newcomer needs: `make plan`, `make test`. Both set up their own environment.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
READY := $(VENV)/ready

.PHONY: plan test bench bench-full lint pictures clean

$(READY): requirements.lock pyproject.toml
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11) and "kerfwind needs Python 3.11 or newer; this is " + sys.version.split()[0])'
	@echo "Making the Python environment in $(VENV) (once, a minute or two) ..."
	@$(PYTHON) -m venv $(VENV)
	@$(BIN)/python -m pip install -qq --disable-pip-version-check --require-hashes -r requirements.lock
	@$(BIN)/python -m pip install -qq --disable-pip-version-check --no-deps --no-build-isolation -e .
	@touch $@

plan: $(READY)
	@$(BIN)/kerfwind plan examples/garage.toml --out out/garage

test: $(READY)
	@$(BIN)/python -m pytest -n auto

bench: $(READY)
	@$(BIN)/python -m bench

bench-full: $(READY)
	@$(BIN)/python -m bench --full

lint: $(READY)
	@$(BIN)/ruff check . && $(BIN)/ruff format --check . && $(BIN)/mypy

pictures: $(READY)
	@$(BIN)/python docs/make_pictures.py

clean:
	rm -rf $(VENV) out
