"""One thread for linear algebra in every test and benchmark, as the program itself runs."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from threadpoolctl import threadpool_limits


@pytest.fixture(scope="session", autouse=True)
def one_thread() -> Iterator[None]:
    """Hold the linear algebra under numpy to one thread."""
    with threadpool_limits(1):
        yield
