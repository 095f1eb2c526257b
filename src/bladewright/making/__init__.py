"""How to make it: the plan of a cure, and the card that goes with a run."""
