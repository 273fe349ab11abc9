import { gripDensity } from './benchmarks/grip-density.js';
import { loadLinearPrograms } from './src/algorithms/linear-program.js';
gripDensity(await loadLinearPrograms());
