# What a newcomer needs: `make open`, `make plan`, `make test`. All set up their own environment.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
READY := $(VENV)/ready

.PHONY: open plan test bench bench-full lint pictures clean

$(READY): requirements.lock pyproject.toml
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11) and "kerfwind needs Python 3.11 or newer; this is " + sys.version.split()[0])'
	@echo "Making the Python environment in $(VENV) (once, a minute or two) ..."
	@$(PYTHON) -m venv $(VENV)
	@$(BIN)/python -m pip install -qq --disable-pip-version-check --require-hashes -r requirements.lock
	@$(BIN)/python -m pip install -qq --disable-pip-version-check --no-deps --no-build-isolation -e .
	@touch $@

open: $(READY)
	@$(BIN)/kerfwind open my-shop.toml

plan: $(READY)
	@$(BIN)/kerfwind plan examples/garage.toml --out out/garage

# The page is tested in a real browser: Debian's is installed where that is allowed.
BROWSERS := chromium chromium-browser google-chrome google-chrome-stable msedge

test: $(READY)
	@for each in $(BROWSERS); do command -v $$each >/dev/null && exit 0; done; \
	if [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null; then \
		{ apt-get update -qq && apt-get install -y -qq --no-install-recommends chromium; } >/dev/null; \
	fi || true
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
