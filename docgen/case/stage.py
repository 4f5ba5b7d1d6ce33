"""The steps of training, from first activation to refresher: which tasks each holds, and what passing it takes.

The words of a stage stand in the language; here is what is counted. Stages, tasks and numbers are common practice,
no source; that they are no test of readiness: Livingstone and Paleg 2014, Dev Med Child Neurol 56:210 (abstract read).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any, Literal, get_args

from msgspec import Struct
from pydantic import BeforeValidator

if TYPE_CHECKING:
    from docgen.case.model import Case

Near = Literal["hands_on_stop", "arms_length", "same_room", "in_sight"]
Where = Literal["home", "day", "out"]


class Stage(Struct, frozen=True):
    """One named step of training.

    number    its place in the order; never shown
    id        as case.toml and sessions.csv write it
    band      which group of steps it belongs to: before driving, first moves, steering, every day, and the refresher
    tasks     ids of its tasks; those of `places` are added, or stand instead of them
    places    whether the client's own places are its tasks: those at home, the rooms away from home beside its own, or
              ramps, elevators and ways outside
    in_a_row  how many stops in a row it takes, each by surprise and alone; 0 where it asks for none
    n_days    on how many different days these must have been made
    near      how close someone stays
    slowest   whether it is driven in the slowest profile
    one_new   whether a session adds one new task at most
    """

    number: int
    id: str
    band: int
    tasks: tuple[str, ...]
    near: Near
    slowest: bool
    in_a_row: int = 10
    n_days: int = 3
    places: Where | None = None
    one_new: bool = False

    @property
    def nobody_near(self) -> bool:
        """Whether nobody is at arm's length, so that its tasks take three rows of five."""
        return self.near in ("same_room", "in_sight")


# tasks in which a failure is a missed stop
STOP_TASKS = ("stop_still", "stop_word")

STAGES = (
    Stage(0, "ready", 0, ("stop_still", "rest_wake"), "hands_on_stop", True, in_a_row=5, n_days=1),
    Stage(1, "touch", 1, ("act_again",), "arms_length", True, in_a_row=0),
    Stage(2, "stop_go", 1, ("stop_word", "stop_line"), "arms_length", True),
    Stage(3, "each_way", 1, ("left", "right", "back"), "arms_length", True, one_new=True),
    Stage(4, "corners", 2, ("straight", "corner", "park"), "arms_length", True),
    Stage(5, "tight", 2, ("own_door",), "same_room", False, places="home"),
    Stage(6, "real_day", 3, ("real_day",), "in_sight", False, places="day"),
    Stage(7, "out", 3, ("route",), "arms_length", False, places="out"),
    Stage(8, "refresh", 4, ("refresher",), "in_sight", False),
)
TASKS = tuple(dict.fromkeys(task for stage in STAGES for task in stage.tasks))


STEPS = tuple(stage.id for stage in STAGES)
# what criteria and commands, which are in English, call the steps; a page takes the names of its language
_NAMES = (
    "Ready and safe",
    "Touch and move",
    "Stop and go",
    "Each way",
    "Straight and corners",
    "Tight places",
    "Real day",
    "Out and about",
    "Refresher",
)


# what a lesson card calls a task, beside the client's own places
TASK_NAMES = {
    "stop_still": "stop, with the chair standing still",
    "rest_wake": "rest and wake the control",
    "act_again": "move the chair again on purpose",
    "stop_word": "stop at a word",
    "stop_line": "stop at a line",
    "left": "turn left",
    "right": "turn right",
    "back": "drive in reverse",
    "straight": "drive straight",
    "corner": "drive around a corner",
    "park": "park",
    "own_door": "through the driver's own doors",
    "real_day": "drive through a part of the day",
    "route": "drive a way outside",
    "refresher": "go over an old task",
}


ALSO_CALLED = {"stop": "stop_word", "surprise stop": "stop_word"}  # where no task of the case has that name


def step_number(step: object) -> int:
    """The place of a step by its id. Raises ValueError for anything else, with the new name of an old number."""
    if isinstance(step, str) and step in STEPS:
        return STEPS.index(step)
    number = str(step)
    if number.isdecimal() and int(number) < len(STEPS):
        raise ValueError(f"stage {number} is now '{STEPS[int(number)]}'")
    raise ValueError(f"it must be a step of training: {', '.join(STEPS)}")


def step_words(number: int) -> str:
    """The name of a step, for criteria and commands."""
    return _NAMES[number]


Step = Annotated[int, BeforeValidator(step_number)]


def is_step(annotation: object) -> bool:
    """Whether a key of this annotation holds a step, which a case writes by its id."""
    return annotation == Step or Step in get_args(annotation)


def tasks_of(stage: Stage, case: Case) -> tuple[str, ...]:
    """Ids of the tasks of a stage for a client: the own places where the case names some, else the stage's own; a way
    back is tried where one is recorded."""
    if stage.places is None:
        return tuple(task for task in stage.tasks if task != "back" or case.configuration.backs)
    own_places = tuple(space.id for space in case.spaces if stage_of_space(space) == stage.number)
    return (*stage.tasks, *own_places) if stage.places == "day" else own_places or stage.tasks


def stage_of_space(space: Any) -> int:
    """In which stage a place of the case is trained: rooms at home, then those away, then ramps and ways outside."""
    return stage_of(space.at_home, space.kind)


def stage_of(at_home: object, kind: object) -> int:
    """The same of a place as a case writes it: whether it is at home, and its kind."""
    if kind in ("ramp", "elevator"):
        return 7
    return 5 if at_home else 6 if kind in ("doorway", "corridor", "turning") else 7
