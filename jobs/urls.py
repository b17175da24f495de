"""Addresses of the jobs room, grouped by noun: log-in, jobs, clients, workshop, find."""

from django.urls import include, path

from jobs.views import account, clients, find, jobs, log_in, workshop

job_addresses = [
    path("", jobs.job_list, name="list"),
    path("jobs/<int:pk>/", jobs.job_detail, name="detail"),
]

client_addresses = [
    path("clients/", clients.client_list, name="clients"),
    path("clients/<int:pk>/", clients.client_detail, name="client"),
]

workshop_addresses = [
    path("workshop/", workshop.workshop, name="workshop"),
]

find_addresses = [
    path("find/", find.find, name="find"),
]

account_addresses = [
    path("account/", account.account, name="account"),
    path("account/password/", account.change_password, name="change_password"),
    path("account/log-ins/<int:pk>/end/", account.end_log_in, name="end_log_in"),
    path("account/log-ins/end/", account.end_other_log_ins, name="end_other_log_ins"),
    path("account/second-factor/", account.second_factor, name="second_factor"),
    path("account/second-factor/off/", account.second_factor_off, name="second_factor_off"),
]

addresses = [*account_addresses, *job_addresses, *client_addresses, *workshop_addresses, *find_addresses]

urlpatterns = [
    path("log-in/", log_in.log_in, name="login"),
    path("log-in/code/", log_in.log_in_code, name="log_in_code"),
    path("log-out/", log_in.log_out, name="logout"),
    path("password/<str:token>/", log_in.choose_password, name="choose_password"),
    path("", include((addresses, "jobs"))),
]
