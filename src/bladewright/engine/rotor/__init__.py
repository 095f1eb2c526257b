"""The turning blade as a whole: air, hover, flight, descent, track, what loads the controls. Moments nose-up positive."""
