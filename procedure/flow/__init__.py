"""Model to flow graph: steps as nodes, what flows between them as edges."""

from procedure.flow.build import build
from procedure.flow.graph import Call, Edge, Flow, FlowNode, LotOrigin, Slip

__all__ = ["Call", "Edge", "Flow", "FlowNode", "LotOrigin", "Slip", "build"]
