"""The log-likelihood of a batch and the five sums from which every fit takes its derivatives.

With z = beta*y - alpha (beta = 1/sigma, alpha = mu/sigma; Olsen's parameters) z is linear in
(alpha, beta), so gradient and Hessian in any parameters follow from the sums over readings of
l', l'y, l'', l''y and l''y^2, where l is a reading's contribution as a function of z. For a
reading between two ends the sums run over both ends and their cross term.

Olsen, R. J. (1978), Note on the uniqueness of the maximum likelihood estimator for the Tobit
model, Econometrica 46(5), 1211-1215.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from breakwright.stats.cells import Batch, Span, Spot
from breakwright.stats.families import HALF_LOG_2PI, Floats, Law

__all__ = ["Sums", "sums"]

# Below this width in z an interval's probability is its width times the density at its middle,
# to 1e-9 of it; above, differences of tails keep at least that accuracy.
_NARROW = 1e-4


class Sums(NamedTuple):
    """Each of shape (B,). ``exact`` counts the readings that carry a log(beta)."""

    loglik: Floats
    first: Floats
    first_y: Floats
    second: Floats
    second_y: Floats
    second_yy: Floats
    exact: Floats


@dataclass
class _Tally:
    loglik: Floats
    first: Floats
    first_y: Floats
    second: Floats
    second_y: Floats
    second_yy: Floats

    def add_spot(self, spot: Spot, triple: tuple[Floats, Floats, Floats]) -> None:
        value, first, second = triple
        w, y = spot.weight, spot.y
        first = w * first
        second = w * second
        second_y = second * y
        self.loglik = self.loglik + np.add.reduce(w * value, axis=0)
        self.first = self.first + np.add.reduce(first, axis=0)
        self.first_y = self.first_y + np.add.reduce(first * y, axis=0)
        self.second = self.second + np.add.reduce(second, axis=0)
        self.second_y = self.second_y + np.add.reduce(second_y, axis=0)
        self.second_yy = self.second_yy + np.add.reduce(second_y * y, axis=0)

    def add_span(self, span: Span, law: Law, alpha: Floats, beta: Floats) -> None:
        w = span.weight
        yl = np.broadcast_to(span.low, w.shape)
        yu = np.broadcast_to(span.high, w.shape)
        zl = beta * yl - alpha
        zu = beta * yu - alpha
        # Take the difference in the tail where it is not a difference of two numbers near 1.
        upper_tail = zl + zu > 0.0
        log_sl = law.survival(zl)[0]
        log_su = law.survival(zu)[0]
        log_fl = law.below(zl)[0]
        log_fu = law.below(zu)[0]
        big = np.where(upper_tail, log_sl, log_fu)
        small = np.where(upper_tail, log_su, log_fl)
        gap = np.minimum(small - big, -1e-300)
        value = big + np.log(-np.expm1(gap))
        # Narrow intervals overflow here; they are told another way below.
        with np.errstate(over="ignore", invalid="ignore"):
            dl, sl, _ = law.density(zl)
            du, su, _ = law.density(zu)
            pl = np.exp(dl - value)
            pu = np.exp(du - value)
            uu = pu * (su - pu)
            ll = -pl * (sl + pl)
            ul = pu * pl
            first = pu - pl
            first_y = pu * yu - pl * yl
            second = uu + 2.0 * ul + ll
            second_y = uu * yu + ul * (yu + yl) + ll * yl
            second_yy = uu * yu * yu + 2.0 * ul * yu * yl + ll * yl * yl

        narrow = zu - zl < _NARROW
        if narrow.any():
            y = 0.5 * (yl + yu)
            middle, s1, s2 = law.density(beta * y - alpha)
            width = np.maximum(yu - yl, 1e-300)
            # The width in z is beta*width: its log(beta) joins through first_y and second_yy.
            value = np.where(narrow, middle + np.log(width * beta), value)
            first = np.where(narrow, s1, first)
            first_y = np.where(narrow, s1 * y + 1.0 / beta, first_y)
            second = np.where(narrow, s2, second)
            second_y = np.where(narrow, s2 * y, second_y)
            second_yy = np.where(narrow, s2 * y * y - 1.0 / (beta * beta), second_yy)

        self.loglik = self.loglik + np.add.reduce(w * value, axis=0)
        self.first = self.first + np.add.reduce(w * first, axis=0)
        self.first_y = self.first_y + np.add.reduce(w * first_y, axis=0)
        self.second = self.second + np.add.reduce(w * second, axis=0)
        self.second_y = self.second_y + np.add.reduce(w * second_y, axis=0)
        self.second_yy = self.second_yy + np.add.reduce(w * second_yy, axis=0)


def sums(batch: Batch, law: Law, alpha: Floats, beta: Floats) -> Sums:
    """Log-likelihood (of y; no Jacobian of the log) and its sums at (alpha, beta), each (B,)."""
    m = batch.moments
    if law.gaussian:
        middle = beta * m.mean - alpha
        square = m.squares * beta
        tally = _Tally(
            loglik=-0.5 * (m.count * middle * middle + square * beta) - HALF_LOG_2PI * m.count,
            first=-m.count * middle,
            first_y=-(m.count * middle * m.mean + square),
            second=-m.count,
            second_y=-m.count * m.mean,
            second_yy=-(m.squares + m.count * m.mean * m.mean),
        )
    else:
        nothing = np.zeros(batch.size)
        tally = _Tally(nothing, nothing, nothing, nothing, nothing, nothing)
        if batch.exact is not None:
            tally.add_spot(batch.exact, law.density(beta * batch.exact.y - alpha))
    if batch.right is not None:
        tally.add_spot(batch.right, law.survival(beta * batch.right.y - alpha))
    if batch.left is not None:
        tally.add_spot(batch.left, law.below(beta * batch.left.y - alpha))
    if batch.between is not None:
        tally.add_span(batch.between, law, alpha, beta)
    return Sums(
        tally.loglik + m.count * np.log(beta),
        tally.first,
        tally.first_y,
        tally.second,
        tally.second_y,
        tally.second_yy,
        m.count,
    )
