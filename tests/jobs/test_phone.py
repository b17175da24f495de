"""A message from a phone is taken once, whatever the signal does to the answer."""

from __future__ import annotations

from uuid import uuid4

import pytest

from jobs.models import PhoneMessage
from jobs.refusals import RefusedError
from jobs.services.phone import take_message


def test_a_message_again_gets_the_same_answer_and_nothing_is_done_twice(maker):
    key, done = uuid4(), []

    def act():
        done.append(1)
        return {"done": len(done)}

    told = [
        take_message(person=maker, key=key, kind="hours", said={"a": 1, "b": 2}, act=act) for _ in range(2)
    ]
    assert [(one.answer, one.new) for one in told] == [({"done": 1}, True), ({"done": 1}, False)]
    assert done == [1]


def test_other_words_under_the_same_key_are_refused(maker):
    key = uuid4()
    take_message(person=maker, key=key, kind="hours", said={"a": 1}, act=dict)
    for kind, said in [("hours", {"a": 2}), ("cost", {"a": 1})]:
        with pytest.raises(RefusedError, match="something else"):
            take_message(person=maker, key=key, kind=kind, said=said, act=dict)


def test_what_is_refused_is_not_remembered(maker):
    def refuse():
        raise RefusedError("Not now.")

    key = uuid4()
    with pytest.raises(RefusedError):
        take_message(person=maker, key=key, kind="start", said={}, act=refuse)
    assert PhoneMessage.objects.count() == 0
    assert take_message(person=maker, key=key, kind="start", said={}, act=dict).new


def test_keys_are_each_persons_own(maker, owner):
    key = uuid4()
    assert take_message(person=maker, key=key, kind="start", said={}, act=dict).new
    assert take_message(person=owner, key=key, kind="start", said={}, act=dict).new
