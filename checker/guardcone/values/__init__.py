"""The ground floor: temperatures, rates, durations and the other measures, and pyrometric cones."""

from guardcone.values.cone import (
    Cone,
    ConeForm,
    ConeNumber,
    ConeSeries,
    Numbering,
    UnknownCone,
)
from guardcone.values.quantity import (
    Angle,
    Duration,
    Length,
    Mass,
    Percentage,
    Power,
    Quantity,
    Rate,
    Temperature,
    TemperatureDifference,
    Unit,
    Volume,
)
from guardcone.values.spelling import Misspelled, read_number, read_quantity

__all__ = [
    "Angle",
    "Cone",
    "ConeForm",
    "ConeNumber",
    "ConeSeries",
    "Duration",
    "Length",
    "Mass",
    "Misspelled",
    "Numbering",
    "Percentage",
    "Power",
    "Quantity",
    "Rate",
    "Temperature",
    "TemperatureDifference",
    "Unit",
    "UnknownCone",
    "Volume",
    "read_number",
    "read_quantity",
]
