# Everything a person or CI does with a checkout. `make` alone prints the list.
.DEFAULT_GOAL := help
.DELETE_ON_ERROR:
MAKEFLAGS += --no-print-directory

VENV := .venv
BIN := $(VENV)/bin
# The first Python found that is new enough; `make demo PYTHON=/path/to/python` chooses another.
PYTHON ?=
RUN := $(VENV)/.ready
DEV := $(VENV)/.ready-dev
DEMO := demo-out/coat-rail-pegs

.PHONY: help
help:
	@sed -n 's/^##  *//p' Makefile

$(RUN): requirements.lock pyproject.toml scripts/set-up
	@sh scripts/set-up "$(PYTHON)" $(VENV) requirements.lock $(RUN)

$(DEV): requirements-dev.lock requirements.lock pyproject.toml scripts/set-up
	@sh scripts/set-up "$(PYTHON)" $(VENV) requirements-dev.lock $(RUN) $(DEV)

##  make demo            set up, answer the demo study, say where its report lies
.PHONY: demo
demo: $(RUN)
	@$(BIN)/breakwright demo $(DEMO)

##  make test            set up, lint, run every test
.PHONY: test
test: lint
	@sh scripts/browser $(BIN)/playwright
	@sh scripts/database
	@$(BIN)/python -m pytest -n 3

##  make lint            ruff, mypy, import-linter
.PHONY: lint
lint: $(DEV)
	@$(BIN)/ruff check .
	@$(BIN)/ruff format --check .
	@$(BIN)/mypy
	@$(BIN)/lint-imports --no-cache

##  make bench           speed beside other libraries, films read (many minutes)
.PHONY: bench
bench: bench-film
	@$(BIN)/python -m benchmarks

##  make bench-film      how well and how fast films of displays are read
.PHONY: bench-film
bench-film: $(DEV)
	@sh scripts/readers $(BIN)/python
	@$(BIN)/python -m benchmarks film

##  make bench-coverage  coverage of the intervals by simulation (hours)
.PHONY: bench-coverage
bench-coverage: $(DEV)
	@$(BIN)/python -m benchmarks coverage

##  make pictures        make the README's pictures again from the demo study
.PHONY: pictures
pictures: $(DEV)
	@sh scripts/browser $(BIN)/playwright
	@$(BIN)/python scripts/readme_pictures.py
	@$(BIN)/python scripts/page_pictures.py
	@$(BIN)/python scripts/film_pictures.py

##  make lock            find new versions of everything, write both locks
.PHONY: lock
lock: $(DEV)
	@sh scripts/lock $(BIN)/uv

##  make clean           remove what was made here, the virtual environment too
.PHONY: clean
clean:
	rm -rf $(VENV) .mypy_cache .ruff_cache .import_linter_cache .hypothesis demo-out build dist
	find src tests benchmarks scripts -name __pycache__ -type d -prune -exec rm -rf {} +
