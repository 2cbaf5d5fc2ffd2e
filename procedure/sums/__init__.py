"""The sums of the trade: what a quantity comes to, for the fibre and bath at hand."""

from procedure.sums.amounts import Amount, amount_of

__all__ = ["Amount", "amount_of"]
