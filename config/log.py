"""How is a line of the log written? As words for a person, or as JSON for a program that gathers logs."""

from __future__ import annotations

import json
import logging
from datetime import UTC, datetime


class JsonLine(logging.Formatter):
    """One JSON object a line: when (ISO 8601, UTC), level, who wrote it, what, and the trace of an error."""

    def format(self, record: logging.LogRecord) -> str:
        line = {
            "at": datetime.fromtimestamp(record.created, UTC).isoformat(),
            "level": record.levelname,
            "from": record.name,
            "said": record.getMessage(),
        }
        if record.exc_info:
            line["trace"] = self.formatException(record.exc_info)
        return json.dumps(line, ensure_ascii=False)
