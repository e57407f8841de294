# One set of commands for a laptop and for CI. Each target makes its own environment in .venv first;
# all that has to be there is Python 3.11 to 3.14, pip and make.
#     make PYTHON=/path/to/python3.12 …     another Python
#     make WORKERS=4 …                      processes that tests run in

PYTHON ?= $(shell for p in python3.14 python3.13 python3.12 python3.11 python3 python; do \
	$$p -c 'import pip, sys; sys.exit(not (3, 11) <= sys.version_info < (3, 15))' 2>/dev/null \
	&& echo $$p && break; done)
WORKERS ?= 2
VARIANTS ?= 1000
BIN := .venv/bin
# The demonstration order, and the whole room that it grew to.
ORDERS := lantern-hill room-3

.DEFAULT_GOAL := help
.PHONY: help demo test test-long check format bench requirements clean python run-environment test-environment

help: ## this list
	@grep -E '^[a-z-]+:.*## ' $(MAKEFILE_LIST) | sed -E 's/^([a-z-]+):.*## (.*)/  make \1\t\2/' | expand -t 24

demo: run-environment ## the packets of the demonstration pair and of the whole room 3, into out/
	@for order in $(ORDERS); do \
		$(BIN)/casewright packet examples/$$order.toml --out out/$$order || exit 1; \
		printf '\nThe pages for the shop: %s\n' "out/$$order/packet.pdf"; \
		printf 'Lists, layouts and the model beside it:\n' && ls out/$$order; done

test: test-environment ## every test
	@$(BIN)/python -m pytest -n $(WORKERS)

test-long: test-environment ## every test, the laws on VARIANTS=1000 random orders
	@$(BIN)/python -m pytest -n $(WORKERS) --variants $(VARIANTS)

check: test-environment ## lint, format, types, and the direction of imports
	@$(BIN)/ruff check
	@$(BIN)/ruff format --check
	@$(BIN)/mypy
	@$(BIN)/python -m pytest tests/architecture

format: test-environment ## put the code into the form that check asks for
	@$(BIN)/ruff check --fix --select I
	@$(BIN)/ruff format

bench: test-environment ## the figures of docs/performance.md
	@$(BIN)/python -m benchmarks.spine

requirements: test-environment ## pin the newest releases that pyproject.toml allows (needs the package index)
	@$(BIN)/python scripts/pin.py

clean: ## remove the environment, caches and what was made
	rm -rf .venv out build dist .pytest_cache .mypy_cache .ruff_cache .hypothesis
	find src tests benchmarks scripts -name __pycache__ -type d -exec rm -rf {} +

python:
	@test -n "$(PYTHON)" || { echo "Casewright needs Python 3.11 to 3.14 with pip, and found none." \
	"Install one, or name it: make PYTHON=/path/to/python3" >&2; exit 2; }

run-environment: python
	@$(PYTHON) scripts/environment.py .venv requirements.txt

test-environment: python
	@$(PYTHON) scripts/environment.py .venv requirements-test.txt
