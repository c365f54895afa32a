"""The register of models: pure functions that compute the numbers of parametric questions."""

from collections.abc import Mapping

from . import force_models, reading_models, wear_models
from .drawn import Model

MODELS: Mapping[str, Model] = {
    **force_models.MODELS,
    **wear_models.MODELS,
    **reading_models.MODELS,
}
