"""Batch records: what was really done, and what came out.

A record is plain text beside the procedure, with the suffix ``.batch``; its language is
``grammar/batch.md``. :func:`read` gives a typed :class:`Record` and findings for any text,
:func:`write` the text of a record. Nothing here knows how a procedure is followed: what a
procedure asks a record to hold comes in as a :class:`PlannedBatch`.
"""

from procedure.batch.record_reading import read
from procedure.batch.record_writing import write
from procedure.batch.side_of_form import FormBlank, PlannedBatch, PlannedStep
from procedure.batch.types import Record

__all__ = ["FormBlank", "PlannedBatch", "PlannedStep", "Record", "read", "write"]
