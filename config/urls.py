"""Where does each address lead?"""

from django.urls import include, path

from config.health import health

urlpatterns = [
    path("health/", health, name="health"),
    path("", include("jobs.urls")),
    path("materials/", include("materials.urls")),
    path("quotes/", include("quotes.urls")),
]
