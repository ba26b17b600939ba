"""Addresses of shops that are kept, and of what is learnt in them."""

from django.urls import path

from procedures.views.learnt import answer_reading, learnt, place_in_shop, shop_piece, take_out_of_shop
from procedures.views.shops import delete_shop, edit_shop, new_shop, own_shop, shops, use_shop

patterns = [
    path("shops/", shops, name="shops"),
    path("shops/new/", new_shop, name="new_shop"),
    path("shops/use/", use_shop, name="use_shop"),
    path("shops/<int:shop>/", own_shop, name="own_shop"),
    path("shops/<int:shop>/edit/", edit_shop, name="edit_shop"),
    path("shops/<int:shop>/delete/", delete_shop, name="delete_shop"),
    path("shops/<int:shop>/learnt/", learnt, name="learnt"),
    path("shops/<int:shop>/pieces/", place_in_shop, name="place_in_shop"),
    path("shops/<int:shop>/pieces/<int:piece>/", shop_piece, name="shop_piece"),
    path("shops/<int:shop>/pieces/<int:piece>/answer/", answer_reading, name="answer_reading"),
    path("shops/<int:shop>/pieces/<int:piece>/out/", take_out_of_shop, name="take_out_of_shop"),
]
