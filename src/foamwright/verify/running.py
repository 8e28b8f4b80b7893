"""Ask every measure and lay the answer beside what the source says."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence

import numpy as np

from foamwright.errors import FoamwrightError
from foamwright.verify.formulas import FORMULAS
from foamwright.verify.model import (
    Array,
    Case,
    CaseResult,
    Check,
    Expectation,
    FormulaSubject,
    Question,
    Tally,
    Verdict,
)
from foamwright.verify.states import STATES
from foamwright.verify.values import in_unit, shown_unit

#: Rounding of a published value that lies just on the edge of its band, relative.
_ROUNDING = 1e-9


def run_cases(
    cases: Iterable[Case], *, progress: Callable[[str], None] | None = None
) -> tuple[CaseResult, ...]:
    """Run cases one after the other.

    Parameters
    ----------
    cases : iterable of Case
        What to run.
    progress : callable, optional
        Is told the name of each case before it is run.

    Returns
    -------
    tuple of CaseResult
        In the same order.
    """
    results: list[CaseResult] = []
    for case in cases:
        if progress is not None:
            progress(case.name)
        results.append(run_case(case))
    return tuple(results)


def run_case(case: Case) -> CaseResult:
    """Run one case."""
    checks = [check for each in case.expectations for check in _checks(case, each)]
    return CaseResult(case=case, checks=tuple(checks))


def tally(results: Sequence[CaseResult]) -> Tally:
    """Count how the checks of some cases came out."""
    count = Counter(check.verdict for result in results for check in result.checks)
    return Tally(passed=count[Verdict.PASS], known=count[Verdict.KNOWN], missed=count[Verdict.MISS])


# ---------------------------------------------------------------- one expectation


def _checks(case: Case, expectation: Expectation) -> list[Check]:
    got, why = _answer(case, expectation)
    rows = [_Row(case, expectation, place, got, why) for place in range(len(got))]
    passes = all(row.passes for row in rows)
    return [row.check(stale=bool(expectation.known_miss) and passes) for row in rows]


def _answer(case: Case, expectation: Expectation) -> tuple[Array, str]:
    """Return the answers and why there are none. [SI]

    There is one per expected value; a single expected value goes with each of several answers.
    """
    count = expectation.count
    none = np.full(count, np.nan)
    question = Question(subject=case.subject, state=expectation.state, of=expectation.of)
    try:
        with np.errstate(all="ignore"):
            got = np.asarray(expectation.measure.compute(question), dtype=np.float64)
    except FoamwrightError as error:
        return none, str(error).splitlines()[0]
    except Exception as fault:  # noqa: BLE001 - one case must not end the run of all others
        return none, f"the program itself failed ({type(fault).__name__}: {fault})"
    flat = got.reshape(-1)
    if 1 not in (flat.size, count) and flat.size != count:
        return none, f"{count} values are expected, and there are {flat.size}"
    return np.broadcast_to(flat, (max(count, flat.size),)), ""


class _Row:
    """One value of an expectation beside its answer, in the unit that is shown."""

    def __init__(
        self, case: Case, expectation: Expectation, place: int, got: Array, why: str
    ) -> None:
        measure = expectation.measure
        self.case, self.expectation, self.place, self.why = case, expectation, place, why
        self.unit = shown_unit(measure.kind, measure.unit, lengths=case.lengths, masses=case.masses)
        self.expected = self._shown(expectation.value)
        self.at_least = self._shown(expectation.at_least)
        self.at_most = self._shown(expectation.at_most)
        answer = in_unit(float(got[place]), measure.kind, self.unit)
        self.got = answer if np.isfinite(answer) else None
        absolute = expectation.absolute
        self.absolute = None if absolute is None else in_unit(absolute, measure.kind, self.unit)

    def _shown(self, values: Array | None) -> float | None:
        if values is None:
            return None
        value = float(values[self.place if len(values) > 1 else 0])
        return in_unit(value, self.expectation.measure.kind, self.unit)

    @property
    def error(self) -> float | None:
        """Got less expected; beyond which limit, where there are limits."""
        if self.got is None:
            return None
        if self.expected is not None:
            return self.got - self.expected
        if self.at_least is not None and self.got < self.at_least:
            return self.got - self.at_least
        if self.at_most is not None and self.got > self.at_most:
            return self.got - self.at_most
        return 0.0

    @property
    def passes(self) -> bool:
        """Whether the answer lies in the band."""
        if self.error is None:
            return False
        if self.expected is None:
            return self.error == 0.0
        width = self.absolute
        if width is None:
            width = (self.expectation.relative or 0.0) * abs(self.expected)
        return abs(self.error) <= width + _ROUNDING * abs(self.expected)

    def check(self, *, stale: bool) -> Check:
        """Return the row as a frozen value."""
        known = self.expectation.known_miss
        verdict = Verdict.PASS if self.passes else Verdict.KNOWN if known else Verdict.MISS
        why = self.why or ("" if self.got is not None else "there is no answer in this state")
        if verdict is Verdict.KNOWN:
            why = "; ".join(bit for bit in (known, why) if bit)
        relative = None
        if self.error is not None and self.expected:
            relative = self.error / abs(self.expected)
        return Check(
            measure=self.expectation.measure.name,
            of=self.expectation.of,
            unit=self.unit,
            state=self._state(),
            expected=self.expected,
            at_least=self.at_least,
            at_most=self.at_most,
            got=self.got,
            error=self.error,
            relative_error=relative,
            band_relative=self.expectation.relative,
            band_absolute=self.absolute,
            verdict=verdict,
            why=why,
            note=self.expectation.note,
            stale=stale,
        )

    def _state(self) -> tuple[tuple[str, str], ...]:
        """Return the state of this value as text; of a formula the inputs that change."""
        kinds = {key: STATES[key].kind for key in self.expectation.state}
        values = dict(self.expectation.state)
        subject = self.case.subject
        if isinstance(subject, FormulaSubject):
            known = {each.name: each.kind for each in FORMULAS[subject.name].inputs}
            changing = {key: given for key, given in subject.inputs.items() if len(given) > 1}
            kinds |= {key: known[key] for key in changing}
            values |= changing
        return tuple((key, self._told(given, kinds[key])) for key, given in values.items())

    def _told(self, values: Array, kind: str) -> str:
        unit = shown_unit(kind, "", lengths=self.case.lengths, masses=self.case.masses)
        value = in_unit(float(values[self.place if len(values) > 1 else 0]), kind, unit)
        return f"{value:.6g} {unit}".rstrip()
