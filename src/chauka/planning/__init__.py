"""Which dish at which sitting, what to buy when: the table plan and its proof."""

from chauka.planning.explain import Used, proof_sentence, sittings_fed, uses, why_dish, why_purchase
from chauka.planning.lexicographic import read_order
from chauka.planning.markets import Chance
from chauka.planning.mend import mends
from chauka.planning.plan import plan
from chauka.planning.problem import Problem, Term
from chauka.planning.solve import Result, solve

__all__ = [
    "Chance", "Problem", "Result", "Term", "Used", "mends", "plan", "proof_sentence", "read_order", "sittings_fed",
    "solve", "uses", "why_dish", "why_purchase",
]  # fmt: skip
