"""Settings of the shop desk, named by string and imported by nobody. ``web.serving`` fills in what a start decides."""

from importlib.util import find_spec
from pathlib import Path

SECRET_KEY = "not used: each start reads its key from the folder beside the book"
DEBUG = False
ALLOWED_HOSTS = ["localhost", "127.0.0.1", "[::1]", "testserver"]
DESK_LOGS: Path | None = None  # where the oven's logger writes, if the desk may look there

INSTALLED_APPS = [
    "bladewright.records",
    "bladewright.web",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "django_htmx",
]
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
USE_TZ = True
TIME_ZONE = "UTC"
USE_I18N = False
DATABASES: dict[str, dict[str, object]] = {}  # records.opening.open_book chooses it

MIDDLEWARE = [
    "bladewright.web.middleware.headers",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "bladewright.web.middleware.Desk",
]
ROOT_URLCONF = "bladewright.web.urls"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.messages.context_processors.messages",
                "bladewright.web.showing.around",
            ]
        },
    }
]

STATIC_URL = "/static/"
WHITENOISE_USE_FINDERS = True
WHITENOISE_AUTOREFRESH = False
_PLOTLY = find_spec("plotly")
_SCRIPTS = Path(_PLOTLY.origin).with_name("package_data") if _PLOTLY and _PLOTLY.origin else None
STATICFILES_DIRS = [("plotly", str(_SCRIPTS))] if _SCRIPTS else []

# The desk runs on one machine of the shop, often without TLS: docs/adr says what that does not give.
SESSION_ENGINE = "django.contrib.sessions.backends.signed_cookies"
SESSION_COOKIE_NAME = "desk"
SESSION_COOKIE_AGE = 1800  # [s] on a floor with shared tablets; our own choice
SESSION_SAVE_EVERY_REQUEST = True
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Strict"
CSRF_COOKIE_SAMESITE = "Strict"
CSRF_FAILURE_VIEW = "bladewright.web.showing.came_from_elsewhere"
MESSAGE_STORAGE = "django.contrib.messages.storage.cookie.CookieStorage"
SECURE_CONTENT_TYPE_NOSNIFF = True
X_FRAME_OPTIONS = "DENY"

#: as in bladewright.settings: slow on purpose
PASSWORD_HASHERS = [
    "django.contrib.auth.hashers.ScryptPasswordHasher",
    "django.contrib.auth.hashers.PBKDF2PasswordHasher",
]

DATA_UPLOAD_MAX_MEMORY_SIZE = 8_000_000  # [byte] of a form without its files
FILE_UPLOAD_MAX_MEMORY_SIZE = 4_000_000  # [byte] kept in memory; more goes to a temporary file
DATA_UPLOAD_MAX_NUMBER_FILES = 20
LOGGING_CONFIG = None
