"""In which order cables visit points: shortest chains, rings, capped trees and stars on an exact integer cost matrix.

Importing this loads neither numpy nor HiGHS; they come in when a problem needs them.
"""

from estimator.routing.sequences.chains import chain, ring
from estimator.routing.sequences.model import Answer, NoTree
from estimator.routing.sequences.trees import star, tree

__all__ = ["Answer", "NoTree", "chain", "ring", "star", "tree"]
