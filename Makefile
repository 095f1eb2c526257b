# Everything is done by bootstrap.py, so that it works the same without make: py bootstrap.py demo
PYTHON ?= python3

.PHONY: demo test bench lint lock

demo test bench lint lock:
	@$(PYTHON) bootstrap.py $@ $(ARGS)
