"""Getting in and out."""

from __future__ import annotations

from datetime import timedelta

from django.conf import settings
from django.contrib import messages
from django.contrib.auth import login, logout
from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST

from jobs.forms.accounts import ChoosePasswordForm, CodeForm, LogInForm
from jobs.models import Person
from jobs.network import address_of
from jobs.services.accounts import links, sign_ins, throttle
from jobs.services.accounts import second_factor as factors

DEVICE_COOKIE, DEVICE_AGE = "kerfbook-device", 60 * 60 * 24 * 365
PENDING, PENDING_FOR = "log_in_pending", timedelta(minutes=5)


@login_not_required
@never_cache
@require_http_methods(["GET", "POST"])
def log_in(request: HttpRequest) -> HttpResponse:
    if request.user.is_authenticated:
        return redirect(settings.LOGIN_REDIRECT_URL)
    form = LogInForm(request.POST or None)
    if request.method == "POST":
        wait = _wait(request, request.POST.get("email", ""))
        if wait:
            return _told_to_wait(request, wait)
        good = form.is_valid()
        _note(request, request.POST.get("email", ""), succeeded=good)
        if good and form.person:
            return _go_on(request, form.person)
    return render(request, "jobs/accounts/log_in.html", {"form": form, "next": _next(request)})


def _wait(request: HttpRequest, email: str) -> timedelta | None:
    return throttle.wait_before_next_try(
        email=email,
        address=address_of(request),
        known_device=_known_device(request, email),
        now=timezone.now(),
    )


def _note(request: HttpRequest, email: str, *, succeeded: bool) -> None:
    throttle.note_attempt(
        email=email,
        address=address_of(request),
        known_device=_known_device(request, email),
        succeeded=succeeded,
        now=timezone.now(),
    )


def _known_device(request: HttpRequest, email: str) -> bool:
    mark = request.get_signed_cookie(DEVICE_COOKIE, default="", salt=DEVICE_COOKIE)
    return bool(email) and mark == email.strip().lower()


def _told_to_wait(request: HttpRequest, wait: timedelta) -> HttpResponse:
    minutes = int(wait.total_seconds() // 60) + 1
    return render(request, "jobs/accounts/wait.html", {"minutes": minutes}, status=429)


def _next(request: HttpRequest) -> str:
    wanted = request.POST.get("next") or request.GET.get("next", "")
    safe = url_has_allowed_host_and_scheme(wanted, {request.get_host()}, require_https=request.is_secure())
    return wanted if safe else ""


def _go_on(request: HttpRequest, person: Person) -> HttpResponse:
    """Straight in, or first to the code."""
    if not factors.is_asked_of(person):
        return _let_in(request, person, _next(request))
    request.session[PENDING] = {
        "person": person.pk,
        "next": _next(request),
        "until": (timezone.now() + PENDING_FOR).timestamp(),
    }
    return redirect("log-in-code")


def _let_in(request: HttpRequest, person: Person, wanted: str) -> HttpResponse:
    login(request, person, backend="django.contrib.auth.backends.ModelBackend")
    sign_ins.note_sign_in(
        person=person,
        session_key=request.session.session_key or "",
        address=address_of(request),
        browser=request.headers.get("User-Agent", ""),
        now=timezone.now(),
    )
    response = redirect(wanted or settings.LOGIN_REDIRECT_URL)
    response.set_signed_cookie(
        DEVICE_COOKIE,
        person.email,
        salt=DEVICE_COOKIE,
        max_age=DEVICE_AGE,
        httponly=True,
        secure=settings.HTTPS,
        samesite="Lax",
    )
    return response


@login_not_required
@never_cache
@require_http_methods(["GET", "POST"])
def log_in_code(request: HttpRequest) -> HttpResponse:
    pending = request.session.get(PENDING)
    if not pending or pending["until"] < timezone.now().timestamp():
        return redirect("login")
    person = get_object_or_404(Person, pk=pending["person"], is_active=True)
    form = CodeForm(request.POST or None)
    if request.method == "POST":
        wait = _wait(request, person.email)
        if wait:
            return _told_to_wait(request, wait)
        if form.is_valid() and _code_is_right(request, form, person):
            del request.session[PENDING]
            return _let_in(request, person, pending["next"])
    return render(request, "jobs/accounts/code.html", {"form": form})


def _code_is_right(request: HttpRequest, form: CodeForm, person: Person) -> bool:
    try:
        factors.check(person=person, code=form.cleaned_data["code"], now=timezone.now())
    except factors.WrongCodeError:
        _note(request, person.email, succeeded=False)
        form.add_error("code", "That is not the present code, or it was used already.")
        return False
    return True


@login_not_required
@require_POST
def log_out(request: HttpRequest) -> HttpResponse:
    sign_ins.forget_sign_in(request.session.session_key)
    logout(request)
    return redirect("login")


@login_not_required
@never_cache
@require_http_methods(["GET", "POST"])
def choose_password(request: HttpRequest, token: str) -> HttpResponse:
    try:
        form = ChoosePasswordForm(request.POST or None, person=links.person_of_link(token, timezone.now()))
        if form.is_valid():
            links.choose_password(token=token, password=form.cleaned_data["password"], now=timezone.now())
            messages.success(request, "Your password is set. Log in with it.")
            return redirect("login")
    except links.LinkUsedUpError:
        return render(request, "jobs/accounts/link_used_up.html", status=410)
    response = render(request, "jobs/accounts/choose_password.html", {"form": form, "person": form.person})
    response["Referrer-Policy"] = "no-referrer"
    return response
