"""The production server: threads for waiting, processes for work, and a fresh process now and then.

PDF rendering does not give all its memory back, so a process is replaced after some hundreds of requests.
"""

import os

bind = f"{os.environ.get('KERFBOOK_BIND', '127.0.0.1')}:{os.environ.get('PORT', '8000')}"
worker_class = "gthread"
workers = int(os.environ.get("KERFBOOK_WORKERS", "2"))
threads = 4
timeout = 60
max_requests = 500
max_requests_jitter = 50
control_socket_disable = True  # nothing here asks for it, and a locked-down service has no home to put it in
