"""
The engine: JSON text in, JSON text out.
"""

from _typeshed import SupportsGetItem
from typing import SupportsIndex
from typing_extensions import Buffer

__all__ = ["calculate", "calculate_bulk", "calculations", "data_set", "engine", "in_words", "refusal", "rewrite", "salts", "solve_table"]

def calculate(name: str, body: bytes) -> tuple[int, str]:
    """
    Answers one request: the status and the JSON text of the answer (200) or of the problem.
    """

def calculate_bulk(name: str, lines: SupportsGetItem[int, bytes | bytearray], threads: SupportsIndex | None) -> list[str]:
    """
    Answers many lines `{"id", "request"}`, each with the line `{"id", "status", "answer" | "problem"}`, in order.
    Without a number of threads it takes as many as the machine offers.
    """

def calculations() -> list[str]:
    """
    Names of the calculations.
    """

def data_set() -> str:
    """
    SHA-256 of the compiled-in data tables, in hex.
    """

def engine() -> str:
    """
    Version of the engine.
    """

def in_words(problem: str) -> str:
    """
    A problem in words: its title and detail, then each fault with its place and how to mend it.
    """

def refusal(faults: str) -> str:
    """
    The problem that lists these faults, given and returned as JSON text.
    """

def rewrite(text: bytes) -> tuple[int, str]:
    """
    The same JSON as every door writes it: no spaces, shortest numbers. Status 400 where it is no JSON.
    """

def salts(query: bytes) -> tuple[int, str]:
    """
    A page of the catalogue: the status and the JSON text of the page (200) or of the problem.
    """

def solve_table(request: bytes, columns: SupportsGetItem[int, Buffer], threads: SupportsIndex | None) -> tuple[int, str, list[tuple[str, bytes]], bytes, list[str]]:
    """
    Solves a table of waters: the status and the problem where it is refused as a whole; else the names of the answered
    columns, their cells as native doubles (NaN where a row has no answer), for each row the place of its code as one
    byte, and the codes; the first, empty, says that a row is answered. In place of the problem then stand the
    assumptions as JSON text.
    """
