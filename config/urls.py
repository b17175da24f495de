"""Where does each address lead?"""

from django.urls import include, path

urlpatterns = [
    path("", include("jobs.urls")),
    path("materials/", include("materials.urls")),
    path("quotes/", include("quotes.urls")),
]
