"""Addresses of the pages."""

from __future__ import annotations

from django.urls import path
from django.views.i18n import set_language

from chauka.web import worker
from chauka.web.api.app import api
from chauka.web.begin import views as begin
from chauka.web.bench import views as bench
from chauka.web.dishes import views as dishes
from chauka.web.dishes import writing
from chauka.web.food import views as food
from chauka.web.home import views as home
from chauka.web.house import copies as house_copies
from chauka.web.house import lessons as house_lessons
from chauka.web.house import views as house
from chauka.web.ledger import views as ledger
from chauka.web.market import views as market
from chauka.web.page import views as page
from chauka.web.photos import views as photos
from chauka.web.shelf import views as shelf
from chauka.web.stove import views as stove
from chauka.web.table import day as table_day
from chauka.web.table import hand
from chauka.web.table import views as table

urlpatterns = [
    path("", home.today, name="home"),
    path("market/", market.lists, name="market"),
    path("market/tick", market.tick, name="market-tick"),
    path("shelf/", shelf.view, name="shelf"),
    path("shelf/labels.pdf", shelf.labels, name="shelf-labels"),
    path("shelf/add", shelf.add, name="shelf-add"),
    path("shelf/<str:lot>/log", shelf.log, name="shelf-log"),
    path("bench/", bench.view, name="bench"),
    path("bench/tick", bench.tick, name="bench-tick"),
    path("stove/", stove.tonight, name="stove"),
    path("stove/<str:day>/<str:meal>/", stove.sitting, name="stove-sitting"),
    path("stove/<str:day>/<str:meal>/live", stove.live, name="stove-live"),
    path("stove/<str:day>/<str:meal>/deed", stove.deed, name="stove-deed"),
    path("table/", table.view, name="table"),
    path("table/plan", table.plan, name="table-plan"),
    path("table/progress", table.progress, name="table-progress"),
    path("table/stop", table.stop, name="table-stop"),
    path("table/leave", table.leave, name="table-leave"),
    path("table/accept", table.accept, name="table-accept"),
    path("table/welcome", hand.welcome, name="table-welcome"),
    path("table/<str:day>/", table_day.view, name="table-day"),
    path("table/<str:day>/rules", table_day.change, name="table-day-rules"),
    path("table/<str:day>/<str:meal>/<slug:dish>/", hand.view, name="table-hand"),
    path("table/<str:day>/<str:meal>/<slug:dish>/act", hand.act, name="table-hand-act"),
    path("page/", page.choose, name="page"),
    path("page/lists/<slug:which>.pdf", page.one_list, name="page-list"),
    path("page/<slug:dish>/", page.sheet, name="page-sheet"),
    path("page/<slug:dish>/data.json", page.data, name="page-data"),
    path("page/<slug:dish>/pack/", page.pack, name="page-pack"),
    path("page/<slug:dish>/pack.zip", page.pack_zip, name="page-pack-zip"),
    path("page/<slug:dish>/<slug:paper>.pdf", page.sheet_pdf, name="page-sheet-pdf"),
    path("page/<slug:dish>/cards/<slug:card>.svg", page.card, name="page-card"),
    path("page/booklet.<str:kind>", page.booklet, name="page-booklet"),
    path("calendar.ics", page.calendar, name="page-calendar"),
    path("dishes/", dishes.catalogue, name="dishes"),
    path("dishes/found", dishes.found, name="dishes-found"),
    path("dishes/new", writing.new, name="dishes-new"),
    path("dishes/read", writing.read, name="dishes-read"),
    path("dishes/write", writing.write, name="dishes-write"),
    path("dishes/<slug:dish>/", dishes.show, name="dishes-show"),
    path("dishes/<slug:dish>/scaled", dishes.scaled, name="dishes-scaled"),
    path("dishes/<slug:dish>/nutrition", dishes.nutrition, name="dishes-nutrition"),
    path("dishes/<slug:dish>/why/<slug:tag>/", dishes.why, name="dishes-why"),
    path("dishes/<slug:dish>/cooked", dishes.cooked, name="dishes-cooked"),
    path("dishes/<slug:dish>/edit/", writing.edit, name="dishes-edit"),
    path("dishes/<slug:dish>/change", writing.change, name="dishes-change"),
    path("dishes/<slug:dish>/photo", photos.of_dish, name="dishes-photo"),
    path("photos/<str:digest>/<str:size>.jpg", photos.file, name="photo"),
    path("shelf/<str:lot>/photo", photos.of_lot, name="shelf-photo"),
    path("ledger/", ledger.view, name="ledger"),
    path("ledger/weeks/", ledger.by_week, name="ledger-weeks"),
    path("ledger/take-back", ledger.take_back, name="ledger-take-back"),
    path("worker.js", worker.script, name="worker"),
    path("favicon.ico", worker.icon, name="icon"),
    path("foods/<str:code>/", food.view, name="food"),
    path("language", set_language, name="language"),
    path("house/", house.view, name="house"),
    path("house/learned/", house_lessons.view, name="house-lessons"),
    path("house/learned/change", house_lessons.change, name="house-lesson"),
    path("house/vessels", house.vessels, name="house-vessels"),
    path("house/meals", house.meals, name="house-meals"),
    path("house/cook", house.cook, name="house-cook"),
    path("house/region", house.region, name="house-region"),
    path("house/copies/", house_copies.view, name="house-copies"),
    path("house/copies/take", house_copies.take, name="house-copy-take"),
    path("house/copies/bring", house_copies.bring_in, name="house-copy-bring"),
    path("house/copies/everything.json", house_copies.dump, name="house-dump"),
    path("house/copies/<str:name>/", house_copies.look, name="house-copy"),
    path("house/copies/<str:name>/file", house_copies.download, name="house-copy-file"),
    path("house/copies/<str:name>/put", house_copies.put, name="house-copy-put"),
    path("house/numbers", house.numbers, name="house-numbers"),
    path("house/market", house.market, name="house-market"),
    path("house/rule", house.rule, name="house-rule"),
    path("house/person", house.person, name="house-person"),
    path("api/", api.urls),
    path("begin/", begin.ask, name="begin"),
    path("begin/own", begin.own, name="begin-own"),
    path("begin/demo", begin.demo, name="begin-demo"),
]
