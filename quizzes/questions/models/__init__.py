"""Models behind questions: pure functions that compute the numbers of parametric questions."""

from collections.abc import Mapping

from . import coil as coil_models
from . import designs as design_models
from . import forces as force_models
from . import readings as reading_models
from . import scales as scale_models
from . import wear as wear_models
from .drawn import Model

MODELS: Mapping[str, Model] = {
    **force_models.MODELS,
    **coil_models.MODELS,
    **wear_models.MODELS,
    **reading_models.MODELS,
    **scale_models.MODELS,
    **design_models.MODELS,
}
