# People and CI call the same targets. Everything is installed into .venv.
PYTHON ?= python3
OUT ?= out/demo
BIN := .venv/bin

.PHONY: install demo test thorough lint types layers unit docs bench bench-lay bench-lay-times clean

demo: install  ## draft, check and print the shipped example
	$(BIN)/cutonce demo --out $(OUT)

test: install lint types layers unit  ## everything CI runs

install: .venv/installed

.venv/installed: pyproject.toml requirements.lock
	@.ci/make-venv $(PYTHON) .venv
	$(BIN)/python -m pip install --quiet --disable-pip-version-check -c requirements.lock -e '.[dev]'
	$(BIN)/python -m cutonce.lay.compiled
	touch $@

lint: install
	$(BIN)/ruff check src tests bench
	$(BIN)/ruff format --check src tests bench

types: install
	$(BIN)/mypy

layers: install
	$(BIN)/lint-imports

unit: install
	$(BIN)/pytest -n 2 --dist worksteal --doctest-modules

thorough: install  ## the tests with new random examples, ten times as many, and the demo on every woman
	CUTONCE_FULL=1 $(BIN)/pytest -n auto --dist worksteal

docs: install  ## make the reference of steps and the schemas from the program
	$(BIN)/python -m cutonce.studio.pages docs

bench: install  ## measure typical times and record them in docs/benchmarks.md
	$(BIN)/python bench/measure.py

INSTANCES ?= ../shared/data/lay
TIME ?= 60
SEED ?= 1
CORES ?= 2
ENGINE ?= own

bench-lay: install  ## lay strip-packing instances: make bench-lay INSTANCES=DIR TIME=60, a JSON line each
	@$(BIN)/python bench/lay.py $(INSTANCES) --time $(TIME) --seed $(SEED) --cores $(CORES) --engine $(ENGINE)

bench-lay-times: install  ## measure the first lay, the stop and 10 s against 60, record them in docs/benchmarks.md
	$(BIN)/python bench/lay_times.py

clean:
	rm -rf .venv out build src/*.egg-info
