"""Addresses of questions and answers, results, thanks and news."""

from django.urls import path

from procedures.views.news import news, read_news
from procedures.views.questions import (
    ask,
    close_questions,
    delete_question,
    edit_question,
    question,
    questions,
    step_questions,
)
from procedures.views.replies import accept, answer, delete_answer, edit_answer, fold
from procedures.views.result_photos import add_result_photo, delete_result_photo, result_photo
from procedures.views.results import delete_result, edit_result, report_result, report_run, result, results
from procedures.views.thanks import thank, thank_answer, thank_result

patterns = [
    path("news/", news, name="news"),
    path("news/read/", read_news, name="read_news"),
    path("p/<slug:slug>/questions/", questions, name="questions"),
    path("p/<slug:slug>/questions/close/", close_questions, name="close_questions"),
    path("p/<slug:slug>/questions/of/<slug:part>/<slug:step>/", step_questions, name="step_questions"),
    path("p/<slug:slug>/questions/of/<slug:part>/<slug:step>/ask/", ask, name="ask"),
    path("p/<slug:slug>/questions/<int:question>/", question, name="question"),
    path("p/<slug:slug>/questions/<int:question>/edit/", edit_question, name="edit_question"),
    path("p/<slug:slug>/questions/<int:question>/delete/", delete_question, name="delete_question"),
    path("p/<slug:slug>/questions/<int:question>/answer/", answer, name="answer"),
    path("p/<slug:slug>/answers/<int:answer>/edit/", edit_answer, name="edit_answer"),
    path("p/<slug:slug>/answers/<int:answer>/delete/", delete_answer, name="delete_answer"),
    path("p/<slug:slug>/answers/<int:answer>/accept/", accept, name="accept_answer"),
    path("p/<slug:slug>/answers/<int:answer>/fold/", fold, name="fold_answer"),
    path("p/<slug:slug>/answers/<int:answer>/thank/", thank_answer, name="thank_answer"),
    path("p/<slug:slug>/thank/", thank, name="thank"),
    path("p/<slug:slug>/results/", results, name="results"),
    path("p/<slug:slug>/results/new/", report_result, name="report_result"),
    path("p/<slug:slug>/results/<int:result>/", result, name="result"),
    path("p/<slug:slug>/results/<int:result>/edit/", edit_result, name="edit_result"),
    path("p/<slug:slug>/results/<int:result>/delete/", delete_result, name="delete_result"),
    path("p/<slug:slug>/results/<int:result>/thank/", thank_result, name="thank_result"),
    path("p/<slug:slug>/results/<int:result>/photos/", add_result_photo, name="add_result_photo"),
    path(
        "p/<slug:slug>/results/<int:result>/photos/<int:photo>/delete/",
        delete_result_photo,
        name="delete_result_photo",
    ),
    path(
        "p/<slug:slug>/results/<int:result>/photos/<int:photo>/<int:width>.jpg",
        result_photo,
        name="result_photo",
    ),
    path("runs/<uuid:run>/report/", report_run, name="report_run"),
]
