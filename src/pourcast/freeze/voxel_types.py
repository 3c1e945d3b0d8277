"""Types of the large arrays of the voxel solver: single precision, with their unit.

What is added up for the account of heat is kept in double precision; what fills
the memory is not.
"""

from typing import Annotated, TypeAlias

import numpy as np
from numpy.typing import NDArray

from pourcast import units as si

Kinds: TypeAlias = NDArray[np.uint8]
Indices: TypeAlias = NDArray[np.uint32]
"""Places in flat arrays; without a sign, so that a kernel need not ask for one."""

MetresSingle: TypeAlias = Annotated[NDArray[np.float32], si.Unit("m")]
KelvinsSingle: TypeAlias = Annotated[NDArray[np.float32], si.Unit("K")]
SecondsSingle: TypeAlias = Annotated[NDArray[np.float32], si.Unit("s")]
RatiosSingle: TypeAlias = Annotated[NDArray[np.float32], si.Unit("-")]
Heats: TypeAlias = Annotated[NDArray[np.float64], si.Unit("J/m³")]
HeatsSingle: TypeAlias = Annotated[NDArray[np.float32], si.Unit("J/m³")]
Heat: TypeAlias = Annotated[float, si.Unit("J/m³")]
Potentials: TypeAlias = Annotated[NDArray[np.float64], si.Unit("W/m")]
PotentialsSingle: TypeAlias = Annotated[NDArray[np.float32], si.Unit("W/m")]
WattsPerKelvin: TypeAlias = Annotated[NDArray[np.float64], si.Unit("W/K")]
WattPerKelvin: TypeAlias = Annotated[float, si.Unit("W/K")]
KelvinSeconds: TypeAlias = Annotated[NDArray[np.float64], si.Unit("K·s")]
TableSingle: TypeAlias = Annotated[NDArray[np.float32], si.Unit("by column")]
JoulePerCubicMetreKelvin: TypeAlias = Annotated[float, si.Unit("J/(m³·K)")]
PerMetres: TypeAlias = Annotated[NDArray[np.float64], si.Unit("1/m")]
KelvinPerWatts: TypeAlias = Annotated[NDArray[np.float64], si.Unit("K/W")]
