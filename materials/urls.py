"""Addresses of the materials room: catalogue, prices, take-off, cutting plans, stock, orders."""

from django.urls import path

from materials import views

app_name = "materials"
urlpatterns = [
    path("", views.material_list, name="list"),
    path("<int:pk>/", views.material_detail, name="material"),
]
