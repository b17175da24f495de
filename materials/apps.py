from django.apps import AppConfig


class MaterialsConfig(AppConfig):
    name = "materials"

    def ready(self) -> None:
        from jobs import (
            calendar,
            job_links,
            job_warnings,
            receipts,
            search,
            still_open,
        )  # models are loaded only now
        from jobs.append_only import keep_append_only
        from jobs.enums import Role
        from jobs.services.copying import register_copier
        from materials import told_here
        from materials.models import Delivery, DeliveryLine, StockMove, TakenBack
        from materials.queries.calendar import delivery_events
        from materials.queries.catalogue import look_for_materials
        from materials.queries.lateness import late_deliveries
        from materials.queries.receipts import open_orders, order_booked_in, supplier_names
        from materials.queries.still_open import not_here
        from materials.queries.takeoff import look_at_takeoff
        from materials.services.receipts import take_back_with, take_in_all
        from materials.services.takeoff import copy_takeoffs

        told_here.register_all()
        keep_append_only(Delivery, DeliveryLine, StockMove, TakenBack)
        sees_prices = frozenset({Role.OWNER, Role.BOOKKEEPER})
        job_links.register(job_links.JobLink("Cutting plans", "materials:plans", 20))
        job_links.register(job_links.JobLink("Purchase list", "materials:purchase", 30, roles=sees_prices))
        search.register(search.Source("Materials", 40, look_for_materials))
        job_links.register(job_links.JobLink("Take-off", "materials:takeoff", order=10, look=look_at_takeoff))
        job_links.register(job_links.JobLink("Mass", "materials:mass", order=40))
        job_links.register(job_links.PhaseLink("Take-off", "materials:phase-takeoff", order=10))
        register_copier(copy_takeoffs)
        calendar.register(delivery_events)
        job_warnings.register(late_deliveries)
        still_open.register(not_here)
        receipts.register(
            receipts.Buying(
                open_orders=open_orders,
                suppliers=supplier_names,
                take_in=take_in_all,
                booked_in=order_booked_in,
                reversed=take_back_with,
                url_name="materials:receipt",
            )
        )
