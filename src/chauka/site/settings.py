"""Django settings, from the environment alone."""

SECRET_KEY = "for-tests-only"
INSTALLED_APPS: list[str] = []
USE_TZ = False
