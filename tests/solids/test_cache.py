"""The bounded cache, and the kernel's ways of being compiled."""

from __future__ import annotations

import sys
import threading

import pytest
from tests.solids.things import board

from casewright.cache import Cache
from casewright.design.blanks import Face
from casewright.design.features.holes import Hole
from casewright.design.parts import Part
from casewright.solids import kernel
from casewright.solids.evaluate import solid_mesh


def test_it_keeps_by_stage_and_key() -> None:
    cache = Cache()
    assert cache.get("mesh", "k") is None
    assert cache.made("mesh", "k", lambda: 1) == 1
    assert cache.made("mesh", "k", lambda: 2) == 1
    assert cache.made("volume", "k", lambda: 3) == 3
    assert len(cache) == 2


def test_the_first_value_stays() -> None:
    cache = Cache()
    assert cache.put("s", 1, "first") == "first"
    assert cache.put("s", 1, "second") == "first"


def test_the_least_recently_used_goes_first() -> None:
    cache = Cache(limit=3)
    for key in (1, 2, 3):
        cache.put("s", key, key)
    cache.get("s", 1)
    cache.put("s", 4, 4)
    assert [cache.get("s", key) for key in (1, 2, 3, 4)] == [1, None, 3, 4]


def test_none_and_no_room_are_refused() -> None:
    with pytest.raises(ValueError, match="None"):
        Cache().put("s", 1, None)
    with pytest.raises(ValueError, match="at least 1"):
        Cache(limit=0)


def test_threads_share_it() -> None:
    cache = Cache(limit=50)
    wrong: list[int] = []

    def work(seed: int) -> None:
        for i in range(2000):
            key = (i * 7 + seed) % 80
            if cache.made("s", key, lambda key=key: key * 2) != key * 2:
                wrong.append(key)

    threads = [threading.Thread(target=work, args=(n,)) for n in range(4)]
    for t in threads:
        t.start()
    for t in threads:
        t.join()
    assert not wrong
    assert len(cache) <= 50


def plain(x: int) -> int:
    return x + 1


def test_without_numba_the_functions_run_as_they_are(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "numba", None)
    assert kernel.compiled(plain) is plain


def test_without_a_place_for_its_cache_it_compiles_each_time(monkeypatch: pytest.MonkeyPatch) -> None:
    import numba

    def njit(function=None, *, cache=False):
        if cache:
            raise RuntimeError("cannot cache function: no locator available")
        return function

    monkeypatch.setattr(numba, "njit", njit)
    assert kernel.compiled(plain) is plain


def test_a_mesh_does_not_depend_on_what_was_made_before() -> None:
    def bored(*along: float) -> Part:
        return board(100.0, 40.0, 18.0, *(Hole(face=Face.FACE1, u=u, v=20.0, diameter=5.37, depth=9.7) for u in along))

    # A bore of a size that no other test has, so that the first part is the first to ask for its body.
    first = solid_mesh(bored(20.0, 60.0), Cache())
    assert solid_mesh(bored(20.0), Cache())[1].size
    again = solid_mesh(bored(20.0, 60.0), Cache())
    assert all(a.tobytes() == b.tobytes() for a, b in zip(first, again, strict=True))
