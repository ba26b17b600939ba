"""Addresses of collections, following, feeds, mail of what is new, and people's pages."""

from django.urls import path

from procedures.views.collections import (
    collect,
    collection,
    collection_item,
    collection_package,
    collections,
    delete_collection,
    drop_item,
    edit_collection,
    make_collection,
    move_item,
)
from procedures.views.digests import digest, stop_digest
from procedures.views.feeds import collection_feed, guild_feed, news_feed, procedure_feed, smith_feed
from procedures.views.follows import drop_follow, follow_thing, following
from procedures.views.smiths import smith

patterns = [
    path("collections/", collections, name="collections"),
    path("collections/new/", make_collection, name="make_collection"),
    path("collections/<slug:collection>/", collection, name="collection"),
    path("collections/<slug:collection>/edit/", edit_collection, name="edit_collection"),
    path("collections/<slug:collection>/delete/", delete_collection, name="delete_collection"),
    path("collections/<slug:collection>/feed/", collection_feed, name="collection_feed"),
    path("collections/<slug:collection>/collection.zip", collection_package, name="collection_package"),
    path("collections/<slug:collection>/items/<int:item>/", collection_item, name="collection_item"),
    path("collections/<slug:collection>/items/<int:item>/move/", move_item, name="move_item"),
    path("collections/<slug:collection>/items/<int:item>/drop/", drop_item, name="drop_item"),
    path("p/<slug:slug>/collect/", collect, name="collect"),
    path("p/<slug:slug>/feed/", procedure_feed, name="procedure_feed"),
    path("guilds/<slug:guild>/feed/", guild_feed, name="guild_feed"),
    path("feed/", news_feed, name="news_feed"),
    path("smiths/<str:person>/", smith, name="smith"),
    path("smiths/<str:person>/feed/", smith_feed, name="smith_feed"),
    path("following/", following, name="following"),
    path("following/<int:follow>/drop/", drop_follow, name="drop_follow"),
    path("follow/<slug:kind>/<str:key>/", follow_thing, name="follow_thing"),
    path("account/digest/", digest, name="digest"),
    path("digest/stop/<str:token>/", stop_digest, name="stop_digest"),
]
