"""Keeps the sets of exercises that were made last, as a hunt takes a while to make."""

from __future__ import annotations

from typing import Any

from workbench.job.job import Job
from workbench.study.exercises.exercise import Exercise, Topic
from workbench.study.exercises.making import ExerciseSet, exercise_set
from workbench.units import Display

TOPICS = tuple(f"topic_{one.value}" for one in Topic)
"""The job's entries that tick the topics."""
_MOST = 8  # sets that are kept


class MadeSets:
    """Gives the very same exercises for the same entries."""

    def __init__(self) -> None:
        self._sets: dict[tuple[Any, ...], ExerciseSet] = {}

    def of(self, job: Job, display: Display) -> ExerciseSet:
        """The exercises of a job."""
        topics = tuple(getattr(job, name) for name in TOPICS)
        key = (topics, job.exercise_seed, job.exercise_count, display)
        made = self._sets.pop(key, None) or exercise_set(job, display)
        self._sets[key] = made  # the last used stands last
        while len(self._sets) > _MOST:
            del self._sets[next(iter(self._sets))]
        return made


Identity = tuple[Topic, int, int, Display]


def identity(exercise: Exercise) -> Identity:
    """What an exercise follows from: two of one identity are the same exercise."""
    return exercise.topic, exercise.seed, exercise.number, exercise.display


SetId = tuple[tuple[bool, ...], int, Display]


def set_id(job: Job, exercises: tuple[Exercise, ...]) -> SetId:
    """What a set follows from, but for how many it has."""
    return tuple(getattr(job, name) for name in TOPICS), exercises[0].seed, exercises[0].display
