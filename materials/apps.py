from django.apps import AppConfig


class MaterialsConfig(AppConfig):
    name = "materials"

    def ready(self) -> None:
        from jobs import job_links, search  # models are loaded only now
        from jobs.append_only import keep_append_only
        from materials.models import StockMove
        from materials.queries.catalogue import look_for_materials

        keep_append_only(StockMove)

        job_links.register(job_links.JobLink("Cutting plans", "materials:plans", 30))
        search.register(search.Source("Materials", 40, look_for_materials))
