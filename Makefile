# Everything a user or a contributor does, from a checkout on a machine with Python 3.11 or newer.
# `make help` lists it.

.DEFAULT_GOAL := help
.DELETE_ON_ERROR:
MAKEFLAGS += --no-print-directory

BIN := .venv/bin
READY := .venv/ready
CODE := src tests benchmarks tools

$(READY): requirements.lock pyproject.toml tools/setup.sh
	@sh tools/setup.sh
	@touch $@

.PHONY: help setup demo serve test check told format lint types imports docs readme carry racks bench lock fix clean audit postgres load pages browser figures release python-3.13 faults fuzz batch-suite batch-bench scale-bench

help:     ## this list
	@sed -n 's/^\([a-z.0-9-]*\):[^#]*## \(.*\)/  make \1\t\2/p' $(MAKEFILE_LIST) | expand -t 16

setup: $(READY)  ## .venv with the pinned dependencies (the other targets do this by themselves)

demo: $(READY)   ## the sheet of the bundled event: on the screen and in build/demo
	@$(BIN)/nextpair demo --out build/demo

serve: $(READY)  ## the web app on this machine: at home in the browser, at the lanes on a phone
	@$(BIN)/nextpair serve

test: $(READY)   ## every test that needs no outside server, and each benchmark once
	@$(BIN)/pytest --numprocesses 2 --dist loadfile --findings=build/findings.json

check: format lint types imports test told  ## what CI runs: format, lint, types, imports, tests, docs

format: $(READY) ## only the format check
	@$(BIN)/ruff format --check --quiet $(CODE)

lint: $(READY)   ## only the linter
	@$(BIN)/ruff check --quiet $(CODE)

types: $(READY)  ## only the type check
	@$(BIN)/mypy --no-error-summary

imports: $(READY)## only the import contracts
	@report=$$($(BIN)/lint-imports) || { echo "$$report"; exit 1; }

told: $(READY)   ## the same documents, by what `make test` wrote down
	@$(BIN)/python tools/validation.py --check --from build/findings.json
	@$(BIN)/python tools/robot.py --check

docs: $(READY)   ## only the documents that are made from tests: are they up to date?
	@$(BIN)/python tools/validation.py --check
	@$(BIN)/python tools/robot.py --check

postgres: $(READY) ## the store's suite on a PostgreSQL of its own (Debian: installs it, as root)
	@sh tools/needs.sh postgres
	@NEXTPAIR_NEEDS_POSTGRES=1 $(BIN)/pytest tests/contracts

load: $(READY)   ## fifty phones sync 10,000 shots with faults, on SQLite and PostgreSQL (3 minutes)
	@sh tools/needs.sh postgres
	@NEXTPAIR_NEEDS_POSTGRES=1 NEXTPAIR_LOAD=1 $(BIN)/pytest tests/load

faults: $(READY) ## kill, fill, damage and set back what keeps things (a minute; as root also small disks)
	@NEXTPAIR_NEEDS_FAULTS=1 $(BIN)/pytest tests/faults --numprocesses 2 --dist loadfile

batch-suite: $(READY) ## batches by processes and on Dask, killed and stopped in the middle (2 minutes)
	@NEXTPAIR_BATCH=1 $(BIN)/pytest tests/batch

audit: $(READY)  ## ask whether a pinned dependency has a known vulnerability, where a service answers
	@$(BIN)/python tools/audit.py
	@$(BIN)/pytest --quiet tests/security/test_dependencies.py -k pip_audit_itself

pages: frontend/node_modules/.package-lock.json ## check, test and build the pages (needs Node 20)
	@cd frontend && npm run --silent check && npm run --silent test && npm run --silent build

frontend/node_modules/.package-lock.json: frontend/package-lock.json
	@sh tools/needs.sh node
	@cd frontend && npm ci --silent --no-audit --no-fund
	@touch $@

browser: $(READY) ## the pages in a real browser, against the wheel installed alone (Debian: installs it)
	@sh tools/needs.sh chromium
	@sh tools/installed.sh build/installed
	@NEXTPAIR_NEEDS_BROWSER=1 NEXTPAIR_BIN=$(CURDIR)/build/installed/bin/nextpair $(BIN)/pytest tests/browser

figures: $(READY) ## measure the pages in a real browser, and their server; in build/browser-figures.json
	@sh tools/needs.sh chromium
	@PYTHONPATH=.:tests $(BIN)/python -m benchmarks.pages build/browser-figures.json

release: $(READY) ## wheel and sdist of this commit into dist, with sums, proved to be built alike
	@$(BIN)/python tools/release.py

python-3.13: $(READY) ## the released wheel, alone, on Python 3.13 (Debian: fetches one, as root)
	@sh tools/python-3.13.sh

fix: $(READY)    ## format the code and mend what the linter can mend
	@$(BIN)/ruff format $(CODE)
	@$(BIN)/ruff check --fix $(CODE)

fuzz: $(READY)   ## damaged input by the hundred thousand (CASES=5000: what CI runs; CASE=FILE: one again)
	@PYTHONPATH=.:tests $(BIN)/python -m fuzz $(if $(CASE),--replay $(CASE)) $(if $(CASES),--cases $(CASES)) \
	  $(if $(SEED),--seed $(SEED)) $(if $(TARGET),--target "$(TARGET)")

bench: $(READY)  ## measure speed, accuracy and start-up (6 minutes); figures in build/bench.json
	@PYTHONPATH=.:tests $(BIN)/python -m benchmarks build/bench.json

batch-bench: $(READY) ## throughput and overhead of batches (3 minutes); figures in build/batch-bench.json
	@PYTHONPATH=.:tests $(BIN)/python -m benchmarks.batched build/batch-bench.json

scale-bench: $(READY) ## what docs/scale.md reckons from (6 minutes); figures in build/scale-bench.json
	@sh tools/needs.sh postgres
	@PYTHONPATH=.:tests $(BIN)/python -m benchmarks.scaled build/scale-bench.json

readme: $(READY) ## put a card and the pictures of the demo into the readme again
	@$(BIN)/python tools/readme.py
	@$(BIN)/python tools/paths_picture.py
	@$(BIN)/python tools/belief_picture.py
	@$(BIN)/python tools/carry_picture.py

carry: $(READY)  ## draw the carry table again for docs/guide/carry.md, after `make racks`
	@$(BIN)/python tools/carry_picture.py

robot: $(READY)  ## fit a lane to the robot's published shots again (docs/validation/robot.md)
	@$(BIN)/python tools/robot.py

racks: $(READY)  ## roll the racks behind the carry tables again (docs/adr/0011); ROLLS=200: only so many, compared
	@$(BIN)/python -m nextpair.carry.racks $(if $(ROLLS),--racks $(ROLLS) --spares $(ROLLS),--keep --tables)

lock: $(READY)   ## pin the dependencies of pyproject.toml again (UPGRADE=1: newest versions)
	@$(BIN)/python -m pip install --quiet uv
	@$(BIN)/python -m uv pip compile pyproject.toml --group dev --universal --python-version 3.11 \
	  --generate-hashes --no-header --no-emit-index-url --quiet \
	  $(if $(UPGRADE),--upgrade) --output-file requirements.lock

clean:           ## remove what was built; the next make starts from nothing
	@rm -rf .venv build dist .pytest_cache .mypy_cache .ruff_cache .import_linter_cache .hypothesis
	@find . -name __pycache__ -type d -prune -exec rm -rf {} +
