"""Django settings, named by string and imported by nobody. ``records.opening.open_book`` fills in the database."""

SECRET_KEY = "not used: the book has no sessions; the shop desk sets its own"
INSTALLED_APPS = ["bladewright.records"]
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
USE_TZ = True
TIME_ZONE = "UTC"
DATABASES: dict[str, dict[str, object]] = {}
#: slow on purpose, in time and in memory: what a stolen copy of the book costs whoever guesses at its secrets
PASSWORD_HASHERS = [
    "django.contrib.auth.hashers.ScryptPasswordHasher",
    "django.contrib.auth.hashers.PBKDF2PasswordHasher",
]
