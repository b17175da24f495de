"""Addresses of the jobs room, grouped by noun: log-in, jobs, clients, workshop, find."""

from django.urls import include, path

from jobs.views import (
    account,
    bench,
    calendar,
    clients,
    costs,
    find,
    history,
    jobs,
    learnt,
    log_in,
    people,
    phase_lists,
    phases,
    phone_app,
    phone_queue,
    photos,
    portfolio,
    progress,
    sheets,
    tokens,
    workshop,
)

job_addresses = [
    path("", jobs.job_list, name="list"),
    path("jobs/all/", portfolio.portfolio, name="portfolio"),
    path("jobs/learnt/", learnt.learnt, name="learnt"),
    path("jobs/new/", jobs.job_add, name="add"),
    path("jobs/<int:pk>/", jobs.job_detail, name="detail"),
    path("jobs/<int:pk>/edit/", jobs.job_edit, name="edit"),
    path("jobs/<int:pk>/move/", jobs.job_move, name="move"),
    path("jobs/<int:pk>/archive/", jobs.job_archive, name="archive"),
    path("jobs/<int:pk>/look-back/", learnt.look_back, name="look-back"),
    path("jobs/<int:pk>/progress/", progress.job_progress, name="progress"),
    path("jobs/<int:pk>/progress.<str:kind>", progress.job_progress_file, name="progress-file"),
]

phase_addresses = [
    path("jobs/<int:pk>/phases/", phases.phases_arrange, name="phases"),
    path("jobs/<int:pk>/phases/new/", phases.phase_add, name="phase-add"),
    path("jobs/<int:pk>/phase-list/", phase_lists.phase_list_of_job, name="phase-list-of-job"),
    path("jobs/<int:pk>/done/", phases.phases_done, name="done"),
    path("phases/<int:pk>/", phases.phase_detail, name="phase"),
    path("phases/<int:pk>/edit/", phases.phase_edit, name="phase-edit"),
    path("phases/<int:pk>/move/", phases.phase_move, name="phase-move"),
    path("phases/<int:pk>/take-out/", phases.phase_take_out, name="phase-take-out"),
]

client_addresses = [
    path("clients/", clients.client_list, name="clients"),
    path("clients/new/", clients.client_add, name="client-add"),
    path("clients/<int:pk>/", clients.client_detail, name="client"),
    path("clients/<int:pk>/edit/", clients.client_edit, name="client-edit"),
    path("clients/<int:pk>/archive/", clients.client_archive, name="client-archive"),
]

workshop_addresses = [
    path("workshop/", workshop.workshop, name="workshop"),
    path("workshop/calendar/renew/", calendar.calendar_renew, name="calendar-renew"),
    path("calendar/<str:key>.ics", calendar.calendar, name="calendar"),
    path("workshop/logo/", workshop.logo, name="logo"),
    path("workshop/edit/<slug:section>/", workshop.workshop_edit, name="workshop-edit"),
    path("workshop/taxes/new/", workshop.tax_rate, name="tax-rate-add"),
    path("workshop/taxes/<int:pk>/", workshop.tax_rate, name="tax-rate"),
    path("workshop/trades/new/", workshop.labour_rate, name="labour-rate-add"),
    path("workshop/trades/<int:pk>/", workshop.labour_rate, name="labour-rate"),
    path("workshop/people/new/", people.person_add, name="person-add"),
    path("workshop/people/<int:pk>/", people.person_detail, name="person"),
    path("workshop/people/<int:pk>/edit/", people.person_edit, name="person-edit"),
    path("workshop/people/<int:pk>/rates/new/", people.person_rate_add, name="person-rate-add"),
    path("workshop/people/<int:pk>/link/", people.person_link, name="person-link"),
    path("workshop/phase-lists/new/", phase_lists.phase_list, name="phase-list-add"),
    path("workshop/phase-lists/<int:pk>/", phase_lists.phase_list, name="phase-list"),
    path(
        "workshop/phase-lists/<int:pk>/take-out/", phase_lists.phase_list_take_out, name="phase-list-take-out"
    ),
]

sheet_addresses = [
    path("sheets/", sheets.sheets, name="sheets"),
    path("sheets/<str:week>.<str:kind>", sheets.sheets_file, name="sheets-file"),
    path("sheets/<int:pk>/<str:week>/", sheets.sheet, name="sheet"),
    path("sheets/<int:pk>/<str:week>/approve/", sheets.approve, name="sheet-approve"),
    path("sheets/<int:pk>/<str:week>/lock/", sheets.lock, name="sheet-lock"),
    path("sheets/<int:pk>/<str:week>/open/", sheets.open_again, name="sheet-open"),
    path("entries/<int:pk>/correct/", sheets.correct, name="entry-correct"),
    path("entries/<int:pk>/end/", sheets.end, name="entry-end"),
    path("entries/<int:pk>/take-out/", sheets.void, name="entry-void"),
]

cost_addresses = [
    path("jobs/<int:pk>/costs/", costs.costs, name="costs"),
    path("jobs/<int:pk>/costs.<str:kind>", costs.costs_file, name="costs-file"),
    path("costs/<int:pk>/reverse/", costs.cost_reverse, name="cost-reverse"),
]

bench_addresses = [
    path("bench/", bench.bench, name="bench"),
    path("bench/start/", bench.start, name="bench-start"),
    path("bench/switch/", bench.switch, name="bench-switch"),
    path("bench/stop/", bench.stop, name="bench-stop"),
    path("bench/hours/", bench.hours, name="bench-hours"),
    path("bench/cost/", bench.cost, name="bench-cost"),
    path("bench/note/", bench.note, name="bench-note"),
    path("bench/queue/", phone_queue.queue, name="bench-queue"),
    path("photos/<str:sha256>/", photos.photo, name="photo"),
    path("kerfbook.webmanifest", phone_app.manifest, name="manifest"),
    path("worker.js", phone_app.worker, name="worker"),
]

find_addresses = [
    path("find/", find.find, name="find"),
    path("history/<slug:record>/<int:pk>/", history.history, name="history"),
]

account_addresses = [
    path("account/", account.account, name="account"),
    path("account/password/", account.change_password, name="change-password"),
    path("account/log-ins/<int:pk>/end/", account.end_log_in, name="end-log-in"),
    path("account/log-ins/end/", account.end_other_log_ins, name="end-other-log-ins"),
    path("account/tokens/", tokens.tokens, name="tokens"),
    path("account/tokens/<int:pk>/end/", tokens.token_end, name="token-end"),
    path("account/second-factor/", account.second_factor, name="second-factor"),
    path("account/second-factor/off/", account.second_factor_off, name="second-factor-off"),
]

addresses = [
    *account_addresses,
    *job_addresses,
    *phase_addresses,
    *client_addresses,
    *workshop_addresses,
    *bench_addresses,
    *sheet_addresses,
    *cost_addresses,
    *find_addresses,
]

urlpatterns = [
    path("log-in/", log_in.log_in, name="login"),
    path("log-in/code/", log_in.log_in_code, name="log-in-code"),
    path("log-out/", log_in.log_out, name="logout"),
    path("password/<str:token>/", log_in.choose_password, name="choose-password"),
    path("", include((addresses, "jobs"))),
]
