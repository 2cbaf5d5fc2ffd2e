"""Model to flow graph: steps as nodes, what flows between them as edges."""

from procedure.flow.build import build
from procedure.flow.collection import Collection
from procedure.flow.graph import Call, Edge, Flow, FlowNode, LotOrigin, Slip

__all__ = ["Call", "Collection", "Edge", "Flow", "FlowNode", "LotOrigin", "Slip", "build"]
