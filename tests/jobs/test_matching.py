"""Words are found whatever their capitals and accents, alike by Python, SQLite and PostgreSQL."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.matching import MOST_WORDS, answering, folded
from jobs.models import Client, Job
from tests import make

LETTERS = "aAzZ1 -.%_\\'ÄäÖöÜüßẞÉéëËçÇñŁłØøÅåÆæŒœĐđıİŠšžŽ½²"


@pytest.mark.parametrize(
    ("text", "small"),
    [
        ("", ""),
        (None, ""),
        ("Alder BOATS", "alder boats"),
        ("ZOË Éclair", "zoe eclair"),
        ("Bücherwand im Öfchen", "bucherwand im ofchen"),
        ("Zoe\u0308", "zoe"),
        ("Straße STRASSE", "strasse strasse"),
        ("Træhus på Øen", "traehus pa oen"),
        ("Łódź", "lodz"),
        ("½ m²", "1\u20442 m2"),
    ],
)
def test_words_are_folded(text, small):
    assert folded(text) == small


@given(st.text(LETTERS))
def test_folding_again_changes_nothing_and_capitals_make_no_difference(text):
    assert folded(folded(text)) == folded(text)
    assert folded(text.replace("ı", "").upper()) == folded(text.replace("ı", ""))


@pytest.mark.django_db
def test_the_database_folds_as_python_does():
    make.client(name=f"x{LETTERS}x")
    for letter in LETTERS.split(" ")[1]:
        assert answering(Client.objects.all(), letter, "name").exists(), letter
        assert answering(Client.objects.all(), folded(letter), "name").exists(), letter


@pytest.mark.django_db
@pytest.mark.parametrize(
    "words",
    ["zoë", "ZOË", "zoe", "Éclair Zoë", "eclair zoe", "BUCHERWAND", "öfchen", "100%", "oak_board", "wand öf"],
)
def test_a_job_is_found_by_words_in_any_field_and_order(words):
    job = make.job(title="Bücherwand im Öfchen 100% oak_board", client=make.client(name="Zoë Éclair"))
    make.job(title="Plain 1000 oakxboard", client=make.client(name="Other"))
    assert list(answering(Job.objects.all(), words, "title", "client__name")) == [job]


@pytest.mark.django_db
@pytest.mark.parametrize("words", ["zoe ash", "%", "eclairs", "oéclair", "'", "\\"])
def test_what_does_not_answer_is_not_found(words):
    make.job(title="Bücherwand", client=make.client(name="Zoë Éclair"))
    assert not answering(Job.objects.all(), words, "title", "client__name").exists()


@pytest.mark.django_db
def test_no_words_find_everything_and_very_many_are_no_burden(django_assert_num_queries):
    make.job(title="Hut")
    with django_assert_num_queries(2):
        assert answering(Job.objects.all(), "  ", "title").count() == 1
        assert (
            answering(Job.objects.all(), "hut " * MOST_WORDS + "not looked at " * 2000, "title").count() == 1
        )
