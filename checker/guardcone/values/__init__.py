"""The ground floor: temperatures, rates, durations and the other measures, and pyrometric cones."""

from guardcone.values.amounts import (
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
    Volume,
)
from guardcone.values.cones import Cone, ConeForm, ConeNumber, ConeSeries, Numbering, UnknownCone
from guardcone.values.measures import (
    Misspelled,
    bare_number_at,
    half_unit_at,
    measure_at,
    number_at,
    quantity_at,
    read_quantity,
)
from guardcone.values.units import Unit

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
    "bare_number_at",
    "half_unit_at",
    "measure_at",
    "number_at",
    "quantity_at",
    "read_quantity",
]
