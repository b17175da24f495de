"""Settings. Every switch is an environment variable; the defaults suit one workshop on one small box."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import dj_database_url

from config import environment as env

BASE_DIR = Path(__file__).resolve().parent.parent
DATA_DIR = Path(env.text("KERFBOOK_DATA_DIR", str(BASE_DIR / "data")))

DEBUG = env.flag("KERFBOOK_DEBUG")
SECRET_KEY = env.secret_key(DATA_DIR)
SITE_URL = env.text("KERFBOOK_URL", "http://localhost:8000").rstrip("/")
ALLOWED_HOSTS = env.listed("KERFBOOK_HOSTS", "localhost,127.0.0.1,[::1]")
HTTPS = env.flag("KERFBOOK_HTTPS", default=SITE_URL.startswith("https://"))
CSRF_TRUSTED_ORIGINS = [SITE_URL] if HTTPS else []

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.forms",
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    "django_htmx",
    "jobs",
    "materials",
    "quotes",
    "config",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "config.middleware.ContentSecurityPolicy",
    "config.middleware.PlainAddress",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.auth.middleware.LoginRequiredMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "jobs.middleware.WorkshopClock",
    "config.middleware.StorageTrouble",
]

ROOT_URLCONF = "config.urls"
WSGI_APPLICATION = "config.wsgi.application"

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "jobs.context.workshop",
            ],
            "builtins": ["jobs.templatetags.figures"],
        },
    }
]
FORM_RENDERER = "jobs.form_renderer.KerfbookForms"

# FULL, not NORMAL: a phone drops its queued entry once told "stored", so it must be on the disk by then.
# IMMEDIATE: a transaction that reads and then writes can otherwise fail with "database is locked".
SQLITE_OPTIONS: dict[str, Any] = {
    "timeout": 20,
    "transaction_mode": "IMMEDIATE",
    "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA foreign_keys=ON;",
}
DATABASES: dict[str, Any] = {
    "default": dj_database_url.parse(
        env.text("DATABASE_URL", f"sqlite:///{DATA_DIR / 'kerfbook.sqlite3'}"), conn_max_age=60
    )
}
if DATABASES["default"]["ENGINE"].endswith("sqlite3"):
    DATA_DIR.mkdir(parents=True, exist_ok=True)
    DATABASES["default"]["OPTIONS"] = SQLITE_OPTIONS
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

AUTH_USER_MODEL = "jobs.Person"
LOGIN_URL = "login"
LOGIN_REDIRECT_URL = "jobs:list"
LOGOUT_REDIRECT_URL = "login"
PASSWORD_MIN_LENGTH = 12
AUTH_PASSWORD_VALIDATORS = [
    {
        "NAME": "django.contrib.auth.password_validation.MinimumLengthValidator",
        "OPTIONS": {"min_length": PASSWORD_MIN_LENGTH},
    },
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {"NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"},
]

LANGUAGE_CODE = "en-gb"
TIME_ZONE = env.text("KERFBOOK_TIME_ZONE", "Europe/London")
USE_TZ = True
USE_I18N = True

STATIC_URL = "/static/"
STATIC_ROOT = Path(env.text("KERFBOOK_STATIC_DIR", str(BASE_DIR / "staticfiles")))
STATICFILES_DIRS = [BASE_DIR / "static"]
WHITENOISE_USE_FINDERS = True
WHITENOISE_AUTOREFRESH = DEBUG
PHOTO_DIR = DATA_DIR / "photos"
DATA_UPLOAD_MAX_MEMORY_SIZE = 12 * 1024 * 1024
FILE_UPLOAD_MAX_MEMORY_SIZE = 2 * 1024 * 1024

EMAIL_HOST = env.text("KERFBOOK_SMTP_HOST")
EMAIL_PORT = env.whole_number("KERFBOOK_SMTP_PORT", 587)
EMAIL_HOST_USER = env.text("KERFBOOK_SMTP_USER")
EMAIL_HOST_PASSWORD = env.text("KERFBOOK_SMTP_PASSWORD")
EMAIL_USE_TLS = env.flag("KERFBOOK_SMTP_TLS", default=True)
EMAIL_TIMEOUT = 20
DEFAULT_FROM_EMAIL = env.text("KERFBOOK_MAIL_FROM", "workshop@localhost")
EMAIL_FILE_PATH = DATA_DIR / "mail"
EMAIL_BACKEND = (
    "django.core.mail.backends.smtp.EmailBackend"
    if EMAIL_HOST
    else "django.core.mail.backends.filebased.EmailBackend"
)

PROXIES_IN_FRONT = env.whole_number("KERFBOOK_PROXIES", 0)
SESSION_COOKIE_AGE = 60 * 60 * 24 * 14
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Lax"
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = HTTPS
SESSION_COOKIE_NAME = "__Host-kerfbook" if HTTPS else "kerfbook"
CSRF_COOKIE_NAME = "__Host-kerfbook-csrf" if HTTPS else "kerfbook-csrf"
CSRF_COOKIE_HTTPONLY = False  # the offline queue reads it to send what the bench logged
SECURE_SSL_REDIRECT = HTTPS
SECURE_REDIRECT_EXEMPT = [r"^health/$"]  # a monitor on the same box asks without the proxy
SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https") if HTTPS else None
SECURE_HSTS_SECONDS = 31536000 if HTTPS else 0
# Whether other names under the same domain are on HTTPS is not for this program to promise.
SILENCED_SYSTEM_CHECKS = ["security.W005", "security.W021"]
SECURE_REFERRER_POLICY = "same-origin"
SECURE_CONTENT_TYPE_NOSNIFF = True
X_FRAME_OPTIONS = "DENY"

LOGGING: dict[str, Any] = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {
        "line": {"format": "%(asctime)s %(levelname)s %(name)s %(message)s"},
        "json": {"()": "config.log.JsonLine"},
    },
    "handlers": {
        "console": {"class": "logging.StreamHandler", "formatter": env.text("KERFBOOK_LOG_FORMAT", "line")}
    },
    "loggers": {name: {"level": "ERROR"} for name in ("weasyprint", "fontTools", "pikepdf")},
    "root": {"handlers": ["console"], "level": env.text("KERFBOOK_LOG_LEVEL", "INFO")},
}
