"""How the desk's templates say things."""
