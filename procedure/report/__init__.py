"""Findings to words: one module for each form of report."""
