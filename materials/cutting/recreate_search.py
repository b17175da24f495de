"""The compiled search, made ready in the background, and a second pair of hands to run it."""

from __future__ import annotations

import logging
import threading
from importlib import import_module
from types import TracebackType
from typing import Protocol

from materials.cutting.blocks import UPWARD, FilledBlank, Layout, Leaf, stack
from materials.cutting.widened import Blank, Shape, Widened

log = logging.getLogger(__name__)

MOST_PIECES = 20_000  # beyond, nothing is searched
MIDDLING = 400  # beyond, one of the two threads searches part after part
LARGE = 600  # beyond, both do


class CompiledSearch:
    """Loads the compiled search once a process, in a thread of its own: from disk in half a second, or, the
    first time on a machine, by compiling it, which takes some ten seconds."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._thread: threading.Thread | None = None
        self._over = threading.Event()
        self.works = False

    def make_ready(self) -> None:
        """Begin, unless that was done before."""
        import_module("numpy")  # slow; here and not in the thread, where others could see it half loaded
        with self._lock:
            if self._thread is None:
                self._thread = threading.Thread(target=self._load, name="compiled-panels")
                self._thread.start()

    def wait(self, seconds: float) -> bool:
        """Wait so long at most; is it known by then whether the search works?"""
        return self._over.wait(seconds)

    def _load(self) -> None:
        try:
            _try_out()
            self.works = True
        except Exception:  # no numba, no place to keep machine code, no compiler for this machine
            log.exception("The compiled search for sheet plans can't be used; plans are made without it.")
        finally:
            self._over.set()


compiled_search = CompiledSearch()


def _try_out() -> None:
    """A search so small that it takes no time, to have everything compiled."""
    piece = Leaf(0, False, 2, 1)
    widened = Widened((Shape(2, 1, 2, True),), (Blank(0, 2, 2, 1, 2),), (((0,), (0,)),), 0)
    layout = [FilledBlank(0, piece), FilledBlank(0, stack(UPWARD, [piece]))]
    searcher_for(widened, layout, 0).step()


class Searcher(Protocol):
    """What goes from a layout towards a cheaper one, in short steps."""

    def aim_below(self, layout: Layout) -> None:
        """Look for something cheaper than this from now on."""

    def step(self) -> Layout | None:
        """Search for some hundredths of a second; the cheaper layout if one is found."""


def searcher_for(widened: Widened, layout: Layout, number: int) -> Searcher:
    """A searcher that aims below the layout: for large jobs a part at a time, from nothing if it is empty."""
    from materials.cutting.recreate.part_recreator import PartRecreator  # slow import: numba
    from materials.cutting.recreate.recreator import Recreator  # slow import: numba

    in_parts = layout and (widened.piece_count > LARGE or (widened.piece_count > MIDDLING and number % 2))
    searcher: Searcher = (PartRecreator if in_parts else Recreator)(
        widened, counted_costs(widened), layout, number
    )
    searcher.aim_below(layout)
    return searcher


def counted_costs(widened: Widened) -> list[int]:
    """Cost and number of sheets in one: a sheet fewer counts less than the smallest unit of money."""
    more_than_sheets = widened.piece_count + 1
    return [blank.cost * more_than_sheets + 1 for blank in widened.blanks]


class Helper:
    """Runs a searcher in a thread. Used as a context: leaving it stops the thread and waits for it.

    The thread touches nothing of the caller's: layouts are handed over under a lock.
    """

    def __init__(self, widened: Widened, layout: Layout) -> None:
        self._searcher = searcher_for(widened, layout, 2)
        self._goal: Layout | None = None
        self._found: Layout | None = None
        self._lock = threading.Lock()
        self._stop = threading.Event()
        self._thread = threading.Thread(target=self._run, name="panels-helper")

    def __enter__(self) -> Helper:
        self._thread.start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        at: TracebackType | None,
    ) -> None:
        self._stop.set()
        self._thread.join()

    def aim_below(self, layout: Layout) -> None:
        """Look for something better than this layout from now on."""
        with self._lock:
            self._goal = layout

    def take(self) -> Layout | None:
        """What was found since last asked."""
        with self._lock:
            found, self._found = self._found, None
        return found

    def _run(self) -> None:
        while not self._stop.is_set():
            with self._lock:
                goal, self._goal = self._goal, None
            if goal is not None:
                self._searcher.aim_below(goal)
            found = self._searcher.step()
            if found is not None:
                self._searcher.aim_below(found)
                with self._lock:
                    self._found = found
