"""One's own account: password, second factor, and where one is logged in."""

from __future__ import annotations

import segno
from django.contrib import messages
from django.contrib.auth import update_session_auth_hash
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from jobs.access import person_of
from jobs.forms.accounts import ChangePasswordForm, CodeForm
from jobs.models import SecondFactor, SignIn
from jobs.services.accounts import second_factor as factors
from jobs.services.accounts import sign_ins
from jobs.services.accounts.links import change_own_password
from jobs.workshop import current_workshop


@require_safe
def account(request: HttpRequest) -> HttpResponse:
    person = person_of(request)
    return render(
        request,
        "jobs/accounts/account.html",
        {
            "person": person,
            "sign_ins": SignIn.objects.filter(person=person),
            "this_one": request.session.session_key,
            "has_second_factor": factors.is_asked_of(person),
        },
    )


@require_http_methods(["GET", "POST"])
def change_password(request: HttpRequest) -> HttpResponse:
    person = person_of(request)
    form = ChangePasswordForm(request.POST or None, person=person)
    if form.is_valid():
        change_own_password(
            person=person, password=form.cleaned_data["password"], here=request.session.session_key
        )
        update_session_auth_hash(request, person)
        messages.success(request, "Your password is changed; every other browser is logged out.")
        return redirect("jobs:account")
    return render(request, "jobs/accounts/change_password.html", {"form": form})


@require_POST
def end_log_in(request: HttpRequest, pk: int) -> HttpResponse:
    person = person_of(request)
    sign_ins.end_sign_in(sign_in=get_object_or_404(SignIn, pk=pk, person=person), by=person)
    messages.success(request, "That browser is logged out.")
    return redirect("jobs:account")


@require_POST
def end_other_log_ins(request: HttpRequest) -> HttpResponse:
    person = person_of(request)
    ended = sign_ins.end_all_sign_ins(person=person, by=person, but=request.session.session_key)
    messages.success(request, f"{ended} other browser{'' if ended == 1 else 's'} logged out.")
    return redirect("jobs:account")


@never_cache
@require_http_methods(["GET", "POST"])
def second_factor(request: HttpRequest) -> HttpResponse:
    person = person_of(request)
    if factors.is_asked_of(person):
        return redirect("jobs:account")
    form = CodeForm(request.POST or None, first=True)
    if form.is_valid():
        try:
            codes = factors.confirm(person=person, code=form.cleaned_data["code"], now=timezone.now())
            return render(request, "jobs/accounts/spare_codes.html", {"codes": codes})
        except (factors.WrongCodeError, SecondFactor.DoesNotExist):
            form.add_error("code", "That is not the present code. Is the clock of your generator right?")
    factor = SecondFactor.objects.filter(person=person).first() or factors.begin(person)
    picture = segno.make(factors.address_for_generator(factor, current_workshop().name))
    image = picture.svg_data_uri(scale=5, border=2)
    shown = {"form": form, "secret": factor.secret, "image": image, "back": reverse("jobs:account")}
    return render(request, "jobs/accounts/second_factor.html", shown)


@require_POST
def second_factor_off(request: HttpRequest) -> HttpResponse:
    person = person_of(request)
    if not person.check_password(request.POST.get("password", "")):
        messages.error(request, "That is not your password; the second factor is still on.")
    else:
        factors.turn_off(person=person, by=person)
        messages.success(request, "The second factor is off.")
    return redirect("jobs:account")
