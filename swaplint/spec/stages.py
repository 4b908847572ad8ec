"""The stages of the job, in order."""

from typing import Literal, get_args

Stage = Literal["idea", "plan", "quote", "build", "commission"]
STAGES: tuple[Stage, ...] = get_args(Stage)
"""The stages of the job, in order. At `idea` no answer is due yet."""
UNSTATED: Stage = "plan"
"""What a spec without a stage is judged as."""
