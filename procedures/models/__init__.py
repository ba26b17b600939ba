"""What is kept: procedures with their history, revisions and photos; guilds, runs and classes."""

from .adaptation import Adaptation, Offer, OfferedChange
from .care import ModerationAct, Report, ShutOut, WritingBlock, WrittenWarning
from .course import Assignment, Course, CourseDay
from .finding import Facts, FactsBar, FactsWords, SavedSearch, Trait
from .guild import Guild, Invitation, JoinRequest, Membership, ToolName
from .history import Edit
from .keeping import Collection, CollectionItem, DigestWish, Follow
from .photo import Photo, Picture
from .procedure import FrozenReport, Procedure, Revision
from .run import Run, RunEntry, RunPhoto
from .shop import Shop, ShopPiece, UsedShop
from .talk import (
    Answer,
    NewsRead,
    NewsSeen,
    Question,
    QuestionsClosed,
    Result,
    ResultPhoto,
    ResultReading,
    Thanks,
)
from .token import ApiToken

__all__ = [
    "Adaptation",
    "Answer",
    "ApiToken",
    "Assignment",
    "Collection",
    "CollectionItem",
    "Course",
    "CourseDay",
    "DigestWish",
    "Edit",
    "Facts",
    "FactsBar",
    "FactsWords",
    "Follow",
    "FrozenReport",
    "Guild",
    "Invitation",
    "JoinRequest",
    "Membership",
    "ModerationAct",
    "NewsRead",
    "NewsSeen",
    "Offer",
    "OfferedChange",
    "Photo",
    "Picture",
    "Procedure",
    "Question",
    "QuestionsClosed",
    "Report",
    "Result",
    "ResultPhoto",
    "ResultReading",
    "Revision",
    "Run",
    "RunEntry",
    "RunPhoto",
    "SavedSearch",
    "Shop",
    "ShopPiece",
    "ShutOut",
    "Thanks",
    "ToolName",
    "Trait",
    "UsedShop",
    "WritingBlock",
    "WrittenWarning",
]
