# Shimsheet. `make help` lists the targets.

SHELL := /bin/bash
.SHELLFLAGS := -euo pipefail -c
.DEFAULT_GOAL := help
.NOTPARALLEL:

GO ?= go
FUZZTIME ?= 3s
FUZZ ?= ^Fuzz
BENCHTIME ?= 1s

# What is also tested and measured as the page runs it: compiled to WebAssembly.
CORE := ./internal/units ./internal/tables ./internal/packs ./internal/calc ./internal/job ./internal/evaluate ./internal/sentences ./internal/calculators ./internal/grid
WASM := GOOS=js GOARCH=wasm
# The environment is cut down because Go's WebAssembly start-up holds arguments and environment to a few thousand bytes.
WASM_EXEC = env -i HOME=$(HOME) PATH=$(PATH) $(shell $(GO) env GOROOT)/lib/wasm/go_js_wasm_exec

DEMO := testdata/demo/machines.csv $(foreach s,job stock readings growth feet limits materials checks rounds trains record,-$(s) testdata/demo/$(s).csv)

.PHONY: help run test bench bench-peers fuzz lint types size clean page native setup build gotest wasmtest slimtest edge worker browser evidence mutants faults faultsample

help: ## this list
	@sed -n 's/^\([a-z-]*\):.*## /make \1\t/p' Makefile | expand -t 16

run: native ## build page and command, compute the demo job, print the table and the page's path
	@# Exit status 1 means that some rows are not judged; the demo has two such rows on purpose.
	@st=0; dist/shimsheet calc $(DEMO) -o dist/demo-results.json || st=$$?; [ $$st -le 1 ] || exit $$st
	@st=0; dist/shimsheet calc $(DEMO) 2>/dev/null || st=$$?; [ $$st -le 1 ] || exit $$st
	@printf '\nresults   %s\npage      %s\n' "$$PWD/dist/demo-results.json" "$$PWD/dist/shimsheet.html"

test: setup lint types build gotest faultsample wasmtest slimtest worker fuzz size browser ## everything that must pass

bench: page setup ## measure: native, under WebAssembly, and the page in a browser
	@echo "== native"
	$(GO) test -run '^$$' -bench . -benchmem -benchtime $(BENCHTIME) $(CORE)
	@echo "== WebAssembly in Node"
	@$(WASM) $(GO) test -exec '$(WASM_EXEC)' -run '^$$' -bench . -benchmem -benchtime $(BENCHTIME) $(CORE)
	@echo "== page in a browser"
	@node test/browser/bench.mjs

bench-peers: setup ## the same rows in general-purpose programs, as far as they are installed, and here
	@node test/peers/bench.mjs

fuzz: ## every fuzz target that fits FUZZ (all), for FUZZTIME (default 3s)
	@scripts/fuzz.sh $(FUZZTIME) '$(FUZZ)'

# The packages whose tests are measured by planting faults; TESTING.md has the figures.
PACKAGE ?= internal/units internal/tables internal/packs internal/calc internal/job internal/calculators internal/evaluate internal/sentences internal/grid internal/report internal/desk internal/workbook cmd/shimsheet
SAMPLE ?= 0
GREMLINS := github.com/go-gremlins/gremlins/cmd/gremlins@v0.6.0

mutants: ## gremlins over PACKAGE (every one: many hours), one worker
	@[ -x dist/tools/gremlins ] || GOBIN=$(CURDIR)/dist/tools $(GO) install $(GREMLINS)
	@for p in $(PACKAGE); do echo "== $$p"; nice -n 19 dist/tools/gremlins unleash --workers 1 --timeout-coefficient 5 --output-statuses ltc ./$$p; done

# In every run: twenty faults of one package, both chosen by the commit. Half of them must be noticed, which tests as they are here miss once in many thousand commits; a package
# whose tests have gone blind does not reach it.
faultsample:
	@$(GO) run ./internal/mutants/cmd -quiet -one -seed "$$(git rev-parse HEAD 2>/dev/null || echo none)" -sample 20 -least 50 -short -longest 2s -within 40s internal/units internal/tables internal/grid

faults: ## our own, quicker and with more kinds: SAMPLE=n covered faults of each PACKAGE, 0 all; SEED another sample; ALSO=a,b packages above it whose tests are run too
	@nice -n 19 $(GO) run ./internal/mutants/cmd -quiet -sample $(SAMPLE) -seed '$(SEED)' $(if $(ALSO),-also '$(ALSO)') $(PACKAGE)

lint: ## gofmt, go vet, staticcheck; for this machine and for the page
	@bad=$$(gofmt -l cmd internal test/load); [ -z "$$bad" ] || { echo "not gofmt'd:"; echo "$$bad"; exit 1; }
	$(GO) vet ./...
	$(WASM) $(GO) vet ./...
	@# Built first: with GOOS set, `go tool` would build the tool itself for the page.
	$(GO) build -o dist/tools/staticcheck honnef.co/go/tools/cmd/staticcheck
	dist/tools/staticcheck ./...
	$(WASM) dist/tools/staticcheck ./...

types: setup ## the page's scripts held to their types: web/types.d.ts, the texts, and each other
	@test/browser/node_modules/.bin/tsc -p web --pretty false

edge: native ## build dist/worker, the programs for the edge
	@scripts/worker.sh

worker: edge setup ## hold the programs for the edge, under workerd, to the native handler
	@node --test test/worker/*.test.mjs
	SHIMSHEET_WORKER=1 $(GO) test -vet=off -count 1 ./cmd/worker
	SHIMSHEET_WORKER=1 $(GO) test -vet=off -count 1 -run Engines ./cmd/shimsheet

size: edge ## the files people get, held to budgets.txt
	@scripts/size.sh

clean: ## remove what was built
	rm -rf dist cmd/shimsheet/embedded/page.html.gz test/browser/node_modules test/worker/node_modules

page: ## build dist/shimsheet.html, no Node needed
	@mkdir -p dist
	$(GO) run ./cmd/pagebuild -o dist/shimsheet.html -sizes dist/sizes.txt

native: page ## build dist/shimsheet with the page inside
	@gzip -9nc dist/shimsheet.html > cmd/shimsheet/embedded/page.html.gz
	$(GO) build -buildvcs=false -trimpath -o dist/shimsheet ./cmd/shimsheet

evidence: ## write EVIDENCE.md and README's summary of it
	$(GO) run ./internal/evidence/cmd

setup: test/browser/node_modules/.installed ## install what the tests need (Debian, npm)

test/browser/node_modules/.installed: test/browser/package-lock.json test/worker/package-lock.json scripts/setup.sh
	@scripts/setup.sh
	@touch $@

build:
	$(GO) build -buildvcs=false ./...
	$(WASM) $(GO) build -buildvcs=false -o /dev/null ./cmd/wasm/...

# The documents of evidence, import directions and licence list are held by tests in here.
gotest:
	$(GO) test -vet=off ./... # lint has vetted all of it

wasmtest:
	@echo "go test under WebAssembly"
	@$(WASM) $(GO) test -vet=off -exec '$(WASM_EXEC)' $(CORE)

# The page's program for workbooks is built with a copy of the workbook library from which parts are cut (cmd/pagebuild/slim.go). Our tests run against that
# copy too, and the library's own tests of what we use; not the one that writes a part of 4 GiB.
SLIMTESTS := ^Test(Stream|SetCell|GetCell|NewStyle|GetStyle|SetPanes|DataValidation|SetDefinedName|DefinedName|SetPage|GetPage|SetHeaderFooter|SetSheet|NewSheet|DeleteSheet|GetSheet|SetActiveSheet|SetCol|GetCol|SetRow|GetRow|Rows|Cols|Open|New|Write|Close|SetDocProps|SetAppProps|SharedStrings|Workbook|Sheet)
# In the quick form the library's own tests stay out, and of ours those that start another program to read what was written: neither asks anything of our code that
# the stock library's run does not.
slimtest: page
ifdef SHIMSHEET_QUICK
	$(GO) test -vet=off -modfile=dist/slim/go.mod -skip 'LibreOffice|Recalculates|Openpyxl|Foreign' ./internal/workbook ./cmd/wasm/workbook
else
	$(GO) test -vet=off -modfile=dist/slim/go.mod ./internal/workbook ./cmd/wasm/workbook
	cd dist/slim/excelize && $(GO) test -vet=off -run '$(SLIMTESTS)' -skip '^TestZip64' .
endif

# Last, so that the output closes with the runner's own count.
browser:
	@node --test --test-concurrency=2 test/browser/*.test.mjs
