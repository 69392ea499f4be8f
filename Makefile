# Donorbook. On a machine with Python 3.11 or newer, make and git:
#   make serve    everything that is needed, build, serve, print the address
#   make test     everything the tests need beside it, all tests
PYTHON ?= $(shell for p in python3 python3.14 python3.13 python3.12 python3.11; do \
	$$p -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null && { echo $$p; break; }; done)
BIN := .venv/bin
SETUP := $(or $(PYTHON),python3) -m build_tools.setup
SEED ?=
ARGS ?=

export NO_MKDOCS_2_WARNING := 1

.DEFAULT_GOAL := help
.PHONY: help environment serve build check test soak mutants bench lock clean

help:        ## say what there is to make
	@grep -E '^[a-z]+: .*##' $(MAKEFILE_LIST) | sed -E 's/:.*##/\t/' | expand -t 14

environment: ## the environment, the packages, the donorbook command and the browser's Python
	@$(SETUP) environment

serve: environment ## build the site, serve it on this machine and print the address
	@$(BIN)/donorbook serve $(ARGS)

build: environment ## build the site into build/site/
	@$(BIN)/donorbook build $(ARGS)

check: environment ## read all facts and name every problem
	@$(BIN)/donorbook check $(ARGS)

test: ## all tests but the long ones; ARGS="tests/engine -k name" runs some, SEED=7 draws others
	@$(SETUP) tests
	@$(BIN)/python -m tests $(if $(SEED),--seed $(SEED)) $(ARGS)

soak: ## the long tests, with a seed of their own each time
	@$(SETUP) tests
	@$(BIN)/python -m pytest -m "soak or not soak" --soak $(if $(SEED),--seed $(SEED)) $(ARGS)

mutants: ## break engine and rules in seeded places and report what no test notices (20 minutes)
	@$(SETUP) tests
	@$(BIN)/python -m tests.mutation $(if $(SEED),--seed $(SEED)) $(ARGS)

bench: ## time from opening the page to the first verdict, beside the stock runtime
	@$(SETUP) browser
	@$(BIN)/donorbook build
	@$(BIN)/python -m bench $(ARGS)

lock: ## renew the locked versions
	@$(SETUP) locks

clean: ## remove everything that was made
	@$(SETUP) clean
