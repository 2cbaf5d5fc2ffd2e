"""Recipes in prose to drafts of procedures: what the prose says, where it says it, and no more."""

from procedure.draft.drafting import Draft, NotProse, drafted

__all__ = ["Draft", "NotProse", "drafted"]
