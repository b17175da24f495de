"""Where does each address lead?"""

from django.urls import include, path

from config.health import health
from jobs.api.interface import api, open_to_tokens

interface = api.urls
open_to_tokens(interface[0])

urlpatterns = [
    path("api/", interface),
    path("health/", health, name="health"),
    path("", include("jobs.urls")),
    path("materials/", include("materials.urls")),
    path("quotes/", include("quotes.urls")),
]
