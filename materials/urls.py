"""Addresses of the materials room: catalogue, prices, take-off, cutting plans, stock, orders."""

from django.urls import path

from materials.views import (
    catalogue,
    deliveries,
    orders,
    plans,
    price_lists,
    receipts,
    sizes,
    stock,
    suppliers,
    takeoff,
)

app_name = "materials"

catalogue_urls = [
    path("", catalogue.material_list, name="list"),
    path("new/", catalogue.material_kinds, name="kinds"),
    path("new/<slug:kind>/", catalogue.material_new, name="new"),
    path("<int:pk>/", catalogue.material_detail, name="material"),
    path("<int:pk>/edit/", catalogue.material_edit, name="edit"),
    path("<int:pk>/archive/", catalogue.material_archive, name="archive"),
    path("<int:pk>/bring-back/", catalogue.material_bring_back, name="bring-back"),
    path("<int:pk>/sizes/", sizes.size_add, name="size-add"),
    path("<int:pk>/prices/", sizes.price_add, name="price-add"),
    path("sizes/<int:pk>/archive/", sizes.size_archive, name="size-archive"),
    path("sizes/<int:pk>/bring-back/", sizes.size_bring_back, name="size-bring-back"),
    path("prices/<int:pk>/remove/", sizes.price_remove, name="price-remove"),
]

supplier_urls = [
    path("suppliers/", suppliers.suppliers, name="suppliers"),
    path("suppliers/new/", suppliers.supplier_new, name="supplier-new"),
    path("suppliers/<int:pk>/", suppliers.supplier_edit, name="supplier"),
    path("suppliers/<int:pk>/archive/", suppliers.supplier_archive, name="supplier-archive"),
    path("suppliers/<int:pk>/bring-back/", suppliers.supplier_bring_back, name="supplier-bring-back"),
]

price_list_urls = [
    path("price-lists/", price_lists.price_list_new, name="price-list-new"),
    path("price-lists/<int:pk>/", price_lists.price_list, name="price-list"),
    path("price-lists/<int:pk>/match/", price_lists.price_list_match, name="price-list-match"),
    path("price-lists/<int:pk>/write/", price_lists.price_list_write, name="price-list-write"),
    path("price-lists/<int:pk>/discard/", price_lists.price_list_discard, name="price-list-discard"),
    path("price-list.csv", price_lists.price_list_csv, name="price-list-csv"),
    path("price-list.xlsx", price_lists.price_list_xlsx, name="price-list-xlsx"),
]

plan_urls = [
    path("jobs/<int:pk>/plans/", plans.plan_list, name="plans"),
    path("jobs/<int:pk>/plans/make/", plans.plan_make, name="plan-make"),
    path("jobs/<int:pk>/plans/cut-sheet.pdf", plans.plans_cut_sheet, name="plans-cut-sheet"),
    path("jobs/<int:pk>/plans/labels.pdf", plans.plans_labels, name="plans-labels"),
    path("plans/<int:pk>/", plans.plan_detail, name="plan"),
    path("plans/<int:pk>/cut-sheet.pdf", plans.plan_cut_sheet, name="plan-cut-sheet"),
    path("plans/<int:pk>/labels.pdf", plans.plan_labels, name="plan-labels"),
    path("plans/<int:pk>/again/", plans.plan_again, name="plan-again"),
    path("plans/<int:pk>/stop/", plans.plan_stop, name="plan-stop"),
    path("plans/<int:pk>/cut/", plans.plan_cut, name="plan-cut"),
    path("sawn/<int:pk>/undo/", plans.plan_uncut, name="plan-uncut"),
]

stock_urls = [
    path("stock/", stock.stock, name="stock"),
    path("stock/add/", stock.stock_add, name="stock-add"),
    path("stock/<int:pk>/", stock.stock_item, name="stock-item"),
    path("stock/<int:pk>/take/", stock.stock_take, name="stock-take"),
    path("stock/<int:pk>/count/", stock.stock_count, name="stock-count"),
    path("stock/<int:pk>/change/", stock.stock_change, name="stock-change"),
    path("stock/<int:pk>/label/", stock.stock_label, name="stock-label"),
    path("stock/moves/<int:pk>/put-back/", stock.stock_back, name="stock-back"),
]

takeoff_urls = [
    path("jobs/<int:pk>/take-off/", takeoff.job_takeoff_page, name="takeoff"),
    path("jobs/<int:pk>/mass/", takeoff.job_mass, name="mass"),
    path("jobs/<int:pk>/mass/supports/", takeoff.job_supports, name="supports"),
    path("phases/<int:pk>/take-off/", takeoff.phase_takeoff_page, name="phase-takeoff"),
    path("phases/<int:pk>/take-off/new/<slug:kind>/", takeoff.add_takeoff, name="takeoff-new"),
    path("phases/<int:pk>/take-off/compute/", takeoff.compute_takeoff_again, name="takeoff-compute"),
    path("take-off/<int:pk>/", takeoff.takeoff_item, name="takeoff-item"),
    path("take-off/<int:pk>/edit/", takeoff.edit_takeoff, name="takeoff-edit"),
    path("take-off/<int:pk>/remove/", takeoff.remove_takeoff, name="takeoff-remove"),
    path("take-off/<int:pk>/other-hand/", takeoff.turn_takeoff, name="takeoff-turn"),
    path("take-off/<int:pk>/starts/", takeoff.takeoff_starts, name="takeoff-starts"),
    path("take-off/<int:pk>/start/", takeoff.set_start, name="takeoff-start"),
    path("take-off/<int:pk>/sheet.pdf", takeoff.setting_out_sheet, name="takeoff-sheet"),
    path("take-off/<int:pk>/ways/new/<slug:kind>/", takeoff.new_way, name="takeoff-way-new"),
    path("take-off/<int:pk>/ways/<int:number>/", takeoff.edit_way, name="takeoff-way"),
    path("take-off/<int:pk>/ways/<int:number>/take/", takeoff.take_way, name="takeoff-way-take"),
    path("take-off/<int:pk>/ways/<int:number>/drop/", takeoff.drop_way, name="takeoff-way-drop"),
    path("take-off/put-back/", takeoff.put_back_takeoff, name="takeoff-put-back"),
    path("hours/", takeoff.operation_hours, name="operation-hours"),
    path("bending/", takeoff.bending, name="bending"),
    path("movement/", takeoff.movement, name="movement"),
]

order_urls = [
    path("jobs/<int:pk>/purchase/", orders.purchase, name="purchase"),
    path("jobs/<int:pk>/purchase/order/", orders.order_draft, name="order-draft"),
    path("orders/", orders.orders, name="orders"),
    path("orders/<int:pk>/", orders.order, name="order"),
    path("orders/<int:pk>/change/", orders.order_change, name="order-change"),
    path("orders/<int:pk>/lines/", orders.order_add_line, name="order-add-line"),
    path("orders/<int:pk>/place/", orders.order_place, name="order-place"),
    path("orders/<int:pk>/cancel/", orders.order_cancel, name="order-cancel"),
    path("orders/<int:pk>/paper/", orders.order_paper, name="order-paper"),
    path("orders/<int:pk>/receive/", orders.order_receive, name="order-receive"),
    path("deliveries/<int:pk>/take-back/", deliveries.delivery_take_back, name="delivery-take-back"),
    path("receipts/<int:pk>/", receipts.receipt, name="receipt"),
]

urlpatterns = [
    *catalogue_urls,
    *supplier_urls,
    *price_list_urls,
    *plan_urls,
    *stock_urls,
    *order_urls,
    *takeoff_urls,
]
