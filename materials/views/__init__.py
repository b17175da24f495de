"""Pages of the materials room."""

from materials.views.catalogue import material_detail, material_list

__all__ = ["material_detail", "material_list"]
