# The two commands that matter: `make demo` does the main job, `make test` runs all tests.
# Both set up everything they need first.
PY := .venv/bin/python
FROM ?= 2027-03-14

.PHONY: demo test test-fast serve lint audit fix lock tables pictures words clean

demo: .venv/.run-ready
	$(PY) -m chauka demo --from $(FROM)

test: .venv/.test-ready
	sh tools/chromium.sh
	$(PY) -m pytest

test-fast: .venv/.test-ready
	$(PY) -m pytest -m "not slow and not browser"

serve: .venv/.run-ready
	$(PY) -m chauka serve

lint: .venv/.test-ready
	$(PY) -m ruff check
	$(PY) -m ruff format --check
	$(PY) -m mypy
	.venv/bin/lint-imports

audit: .venv/bin/python
	$(PY) tools/audit.py

fix: .venv/.test-ready
	$(PY) -m ruff check --fix
	$(PY) -m ruff format

lock:
	uv pip compile -q --no-header pyproject.toml --universal --python-version 3.11 --generate-hashes --no-emit-index-url -o requirements.txt
	uv pip compile -q --no-header pyproject.toml --extra dev -c requirements.txt --universal --python-version 3.11 --generate-hashes --no-emit-index-url -o requirements-dev.txt

.venv/bin/python:
	sh tools/venv.sh

.venv/.run-ready: .venv/bin/python requirements.txt pyproject.toml
	@if [ ! -e .venv/.test-ready ] || [ requirements.txt -nt .venv/.test-ready ]; then \
		echo "Installing what chauka needs (once; about a minute) …"; \
		$(PY) -m pip install -q --disable-pip-version-check --require-hashes -r requirements.txt && \
		$(PY) tools/link.py; fi
	@touch $@

.venv/.test-ready: .venv/bin/python requirements-dev.txt pyproject.toml
	@echo "Installing what the tests need (once; a minute or two) …"
	@$(PY) -m pip install -q --disable-pip-version-check --require-hashes -r requirements-dev.txt
	@$(PY) tools/link.py
	@touch $@

pictures: .venv/.test-ready
	sh tools/chromium.sh
	$(PY) tools/make_pictures.py

# The Hindi of the pages: collects what the pages say into the .po file and compiles it (needs GNU gettext).
words: .venv/.test-ready
	cd src/chauka && DJANGO_SETTINGS_MODULE=chauka.site.settings ../../$(PY) -m django makemessages -v 0 -l hi -e html,py --no-location --no-obsolete --no-wrap --ignore 'publishing/*'
	cd src/chauka/web && DJANGO_SETTINGS_MODULE=chauka.site.settings ../../../$(PY) -m django compilemessages -v 0 -l hi

clean:
	rm -rf .venv
