"""What people see of the sums: what each asks for, what is plausible, and the result or a refusal in words.

`REGISTRY` maps a name to its `Sum`. `work_out` is for people: it reads, checks and refuses in words.
"""
from .readers import READERS
from .registry import REGISTRY
from .shapes import Band, Param, Refusal, Result, Sum
from .work import as_plain, work_out

__all__ = ["READERS", "REGISTRY", "Band", "Param", "Refusal", "Result", "Sum", "as_plain", "work_out"]
