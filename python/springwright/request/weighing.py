"""The request `WeighingRequest`.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from typing import 


