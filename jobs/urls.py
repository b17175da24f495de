"""Addresses of the jobs room: log-in, jobs, clients, bench, workshop."""

from django.contrib.auth import views as auth
from django.urls import include, path

from jobs import views

jobs = (
    [
        path("", views.job_list, name="list"),
        path("jobs/<int:pk>/", views.job_detail, name="detail"),
        path("clients/", views.client_list, name="clients"),
        path("clients/<int:pk>/", views.client_detail, name="client"),
        path("workshop/", views.workshop, name="workshop"),
        path("find/", views.find, name="find"),
    ],
    "jobs",
)

urlpatterns = [
    path("log-in/", auth.LoginView.as_view(template_name="jobs/log_in.html"), name="login"),
    path("log-out/", auth.LogoutView.as_view(), name="logout"),
    path("", include(jobs)),
]
