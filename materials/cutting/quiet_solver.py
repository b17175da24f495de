"""The linear and integer solver, kept from printing its name at each start."""

from __future__ import annotations

import highspy


class QuietSolver(highspy.Highs):  # type: ignore[misc]  # the package is not typed as far as mypy follows it
    """One core, and no output, not even the line that the constructor prints before an option can be set."""

    def enableCallbacks(self) -> None:  # noqa: N802  # the constructor calls it by this name
        """Called first of all by the constructor: the moment to ask for silence."""
        self.setOptionValue("output_flag", False)
        self.setOptionValue("threads", 1)
        super().enableCallbacks()
