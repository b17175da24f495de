from django.apps import AppConfig


class MaterialsConfig(AppConfig):
    name = "materials"

    def ready(self) -> None:
        from jobs import search  # models are loaded only now
        from materials.queries.catalogue import look_for_materials

        search.register(search.Source("Materials", 40, look_for_materials))
