"""Models behind questions: pure functions that compute the numbers of parametric questions."""

from collections.abc import Mapping

from . import forces as force_models
from . import readings as reading_models
from . import wear as wear_models
from .drawn import Model

MODELS: Mapping[str, Model] = {
    **force_models.MODELS,
    **wear_models.MODELS,
    **reading_models.MODELS,
}
