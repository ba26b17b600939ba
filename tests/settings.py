"""Settings for tests and benches: the site's own, in a folder that is thrown away.

Nothing here may reach what the user keeps, so the folder and every service variable are set before
the site's settings are read. Who runs something (the tests, the benches) makes the folder and removes it.
"""

import os
import tempfile
from uuid import uuid4

for _name in ("FORGESITE_ENV", "DATABASE_URL", "REDIS_URL", "EMAIL_URL", "FORGESITE_S3_BUCKET", "DEBUG"):
    os.environ.pop(_name, None)
os.environ["FORGESITE_INSTANCE"] = f"{tempfile.gettempdir()}/forgesite-test-{uuid4().hex}"
os.environ["SECRET_KEY"] = "only for tests: " + "k" * 50
os.environ["FORGESITE_DEMO_PASSWORD"] = "demo password in tests"
os.environ["ALLOWED_HOSTS"] = "testserver,localhost,127.0.0.1"

from forgesite.settings import *  # noqa: E402, F403
from forgesite.settings import DATABASES, INSTANCE, STORAGES  # noqa: E402

# A file, not memory: the browser's requests come in threads, each with its own connection, as in service.
DATABASES["default"]["TEST"] = {"NAME": INSTANCE / "test.sqlite3"}
DATABASES["default"]["OPTIONS"]["init_command"] = "PRAGMA journal_mode=WAL; PRAGMA synchronous=OFF;"
DATABASES["default"]["CONN_MAX_AGE"] = 0
STORAGES["staticfiles"] = {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"}
CACHES = {"default": {"BACKEND": "django.core.cache.backends.locmem.LocMemCache"}}
EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]  # quick: no real password is ever here
WHITENOISE_AUTOREFRESH = True
