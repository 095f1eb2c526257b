# Everything is done by bootstrap.py, so that it works the same without make: py bootstrap.py demo
PYTHON ?= python3

.PHONY: demo desk test bench lint lock pages pictures

demo test desk bench lint lock pages pictures:
	@$(PYTHON) bootstrap.py $@ $(ARGS)
