"""Tree to model: what the words mean, each against the vocabulary."""

from procedure.model.build import build
from procedure.model.quantity import Quantity
from procedure.model.types import (
    Allow,
    Block,
    Equipment,
    Item,
    Lot,
    Material,
    Name,
    Past,
    Place,
    Procedure,
    Step,
    Written,
)

__all__ = [
    "Allow",
    "Block",
    "Equipment",
    "Item",
    "Lot",
    "Material",
    "Name",
    "Past",
    "Place",
    "Procedure",
    "Quantity",
    "Step",
    "Written",
    "build",
]
