"""Addresses of the jobs room, grouped by noun: log-in, jobs, clients, workshop, find."""

from django.contrib.auth import views as auth
from django.urls import include, path

from jobs.views import clients, find, jobs, workshop

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

addresses = [*job_addresses, *client_addresses, *workshop_addresses, *find_addresses]

urlpatterns = [
    path("log-in/", auth.LoginView.as_view(template_name="jobs/log_in.html"), name="login"),
    path("log-out/", auth.LogoutView.as_view(), name="logout"),
    path("", include((addresses, "jobs"))),
]
