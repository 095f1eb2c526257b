"""What a blade, as drawn or as built, weighs, bears and does in flight; engine results become Figures here."""
