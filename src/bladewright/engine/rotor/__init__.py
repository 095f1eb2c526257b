"""The turning blade as a whole: air, hover, flight, descent, track, control loads. Moments nose-up positive."""
