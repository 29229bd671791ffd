# Everything is built in one way, the whole workspace's features in the dev profile, so that Typst and
# Tauri are compiled once for demo, app, tests and checks.
ALL := --workspace --features fairfall-app/custom-protocol
BUILT := $(or $(CARGO_TARGET_DIR),target)/debug
DEMO := out/demo
# A Python with scipy and shapely, for the benches that measure against them.
PYTHON := python3
# Which store `make app` opens; none means the one in your data folder.
STORE :=

SCREENS := ui/dist/index.html
SCREEN_SOURCES := $(shell find ui/src core/words ui/index.html ui/package-lock.json ui/*.config.* -type f)

# With a display the demo opens the app; without one there is no need to build it.
ifneq ($(DISPLAY)$(WAYLAND_DISPLAY),)
SHOW := app
else
SHOW := say-how
endif

.PHONY: help demo app test check bench types release-cli ui demo-papers say-how
.PHONY: tools-cli tools-build tools-test

help:
	@echo 'make demo         two invented jobs from plan to completion record, then the app on them'
	@echo 'make app          the app; STORE=FOLDER opens a store of its own'
	@echo 'make test         every test: core, journeys, bad days, a browser as the phone, the window'
	@echo 'make check        all that CI checks'
	@echo 'make bench        how answers grow, what papers cost; PYTHON=… one that has scipy and shapely'
	@echo 'make types        writes the TypeScript of the boundary'
	@echo 'make release-cli  the fairfall command line, optimised'

tools-cli tools-build tools-test:
	@.ci/bootstrap.sh $(@:tools-%=%)

$(SCREENS): $(SCREEN_SOURCES) | tools-build
	cd ui && npm run build

ui: $(SCREENS)

demo: demo-papers
	@$(MAKE) --no-print-directory $(SHOW) STORE=$(DEMO)/store

demo-papers: tools-cli
	cargo build $(ALL) --bin fairfall
	$(BUILT)/fairfall demo $(DEMO)

say-how:
	@echo 'The papers are in $(DEMO)/papers. On a desktop, `make app STORE=$(STORE)` opens the app on them.'

app: tools-build $(SCREENS)
	cargo build $(ALL) --bin fairfall-app
	$(BUILT)/fairfall-app $(STORE)

types: tools-cli
	cargo build $(ALL) --example types
	$(BUILT)/examples/types ui/src/lib/generated

test: tools-test $(SCREENS)
	cd ui && npm test
	cargo build $(ALL) --bins
	cargo test $(ALL)
	cargo test $(ALL) --test phone -- --nocapture
	cargo test $(ALL) --test window -- --nocapture

check: tools-test $(SCREENS)
	cargo fmt --all --check
	cd ui && npm run check
	cargo clippy $(ALL) --all-targets -- -D warnings
	RUSTDOCFLAGS='-D warnings' cargo doc $(ALL) --no-deps --lib
	cargo build $(ALL) --example types
	.ci/types.sh $(BUILT)/examples/types
	.ci/android.sh project
	.ci/android.sh depends
	.ci/android.sh types
	$(MAKE) --no-print-directory test
	$(MAKE) --no-print-directory demo-papers
	.ci/papers.sh $(DEMO)

# The core alone is measured as it is released; Typst is not built a second time for the papers.
bench: tools-cli
	PYTHON=$(PYTHON) cargo bench -p fairfall-core --bench growth --bench ground --bench laying
	cargo bench $(ALL) --profile dev --bench papers

release-cli: tools-cli
	cargo build --release --bin fairfall
