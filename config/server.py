"""The production server: threads for waiting, processes for work, and a fresh process now and then.

PDF rendering does not give all its memory back, so a process is replaced after some hundreds of requests. The
program is loaded once, before the processes part: a fresh one answers at once and shares its memory.
"""

import gc
import os
from typing import Any

bind = f"{os.environ.get('KERFBOOK_BIND', '127.0.0.1')}:{os.environ.get('PORT', '8000')}"
worker_class = "gthread"
workers = int(os.environ.get("KERFBOOK_WORKERS", "2"))
threads = 4
timeout = 60
preload_app = True
max_requests = 500
max_requests_jitter = 50
control_socket_disable = True  # nothing here asks for it, and a locked-down service has no home to put it in


def when_ready(server: Any) -> None:
    """What is loaded stays: the garbage collector need not walk it, which held a request up by 0.1 s."""
    from django.urls import get_resolver

    _ = get_resolver().url_patterns  # loads every view
    gc.collect()
    gc.freeze()
