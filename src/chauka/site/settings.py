"""Django settings, from the environment alone.

| variable | meaning | default |
| --- | --- | --- |
| CHAUKA_BOOK | the book's file | `book.sqlite3` in the user's data folder |
| DATABASE_URL | a PostgreSQL database instead of a file | none |
| CHAUKA_HOUSEHOLD | which household's book, where several share a database | the only one |
| CHAUKA_HOSTS | names by which the pages may be asked for, between commas | this machine's own |
| CHAUKA_SECRET_KEY | signs web forms | made once, in a file beside the book |
| CHAUKA_DEBUG | show faults in the browser (for those who work on chauka) | no |
| CHAUKA_LOG | log each request (route, status, time; nothing personal) as a line of JSON | no |
| CHAUKA_TODAY | show the pages as if it were this day | today |
"""

from __future__ import annotations

from importlib.util import find_spec
from pathlib import Path

from django.utils.functional import SimpleLazyObject

from chauka.site import environment
from chauka.store import database, files
from chauka.store.location import DATABASE_VARIABLE, book_path

DEBUG = environment.flag("CHAUKA_DEBUG")
ALLOWED_HOSTS = environment.words("CHAUKA_HOSTS", ("localhost", "127.0.0.1", "[::1]"))
SECRET_KEY = environment.text("CHAUKA_SECRET_KEY") or SimpleLazyObject(lambda: files.secret_key(book_path()))
CHAUKA_SHARED = False  # `chauka serve --share` says so
CHAUKA_TODAY = environment.text("CHAUKA_TODAY")

_URL = environment.text(DATABASE_VARIABLE)
DATABASES = {"default": database.from_url(_URL) if _URL else database.sqlite(book_path())}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

_WEB = find_spec("chauka.web.urls") is not None
INSTALLED_APPS = [
    "django.contrib.staticfiles",
    "django_htmx",
    "chauka.store",
    *(["chauka.web"] if _WEB else []),
]
MIDDLEWARE = [
    "chauka.site.watch.WatchMiddleware",
    "django.middleware.security.SecurityMiddleware",
    *(["chauka.web.headers.ContentSecurityMiddleware"] if _WEB else []),
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.middleware.gzip.GZipMiddleware",
    "django.middleware.locale.LocaleMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    *(["chauka.web.api.guard.ApiMiddleware"] if _WEB else []),
    "chauka.site.gate.GateMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
]
ROOT_URLCONF = "chauka.site.urls"
WSGI_APPLICATION = "chauka.site.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "DIRS": [Path(__file__).with_name("templates")],
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                *(["chauka.web.common.frame"] if _WEB else []),
            ]
        },
    }
]

STATIC_URL = "/static/"
WHITENOISE_USE_FINDERS = True  # straight from the packages: nothing to collect on a cook's machine

USE_TZ = False  # a kitchen clock shows the time of the house
TIME_ZONE = None  # the machine's own
LANGUAGE_CODE = "en"
LANGUAGES = [("en", "English"), ("hi", "हिन्दी")]  # each phone chooses its own
LANGUAGE_COOKIE_HTTPONLY = True
LANGUAGE_COOKIE_SAMESITE = "Strict"
LANGUAGE_COOKIE_AGE = 5 * 365 * 24 * 3600
USE_I18N = True
LOCALE_PATHS = [Path(__file__).parents[1] / "web" / "locale"]  # words of services too are said on pages

CSRF_COOKIE_HTTPONLY = True
CSRF_COOKIE_SAMESITE = "Strict"
X_FRAME_OPTIONS = "DENY"
SECURE_REFERRER_POLICY = "same-origin"
DATA_UPLOAD_MAX_MEMORY_SIZE = 2_500_000

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"line": {"()": "chauka.site.watch.JsonLines"}},
    "handlers": {"stderr": {"class": "logging.StreamHandler", "formatter": "line"}},
    "loggers": {
        "chauka": {"handlers": ["stderr"], "level": "INFO" if environment.flag("CHAUKA_LOG") else "ERROR"},
        "django": {"handlers": ["stderr"], "level": "ERROR", "propagate": False},
    },
}
