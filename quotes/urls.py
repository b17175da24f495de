"""Addresses of the quotes room: quotes, the client's link, change orders, invoices."""

app_name = "quotes"
urlpatterns: list[object] = []
