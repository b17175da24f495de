from django.apps import AppConfig


class MaterialsConfig(AppConfig):
    name = "materials"

    def ready(self) -> None:
        from jobs import job_links, search  # models are loaded only now
        from materials.queries.catalogue import look_for_materials

        job_links.register(job_links.JobLink("Cutting plans", "materials:plans", 30))
        search.register(search.Source("Materials", 40, look_for_materials))
