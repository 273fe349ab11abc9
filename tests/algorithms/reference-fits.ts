/**
 * Reference data sets of NIST (Statistical Reference Datasets, linear and nonlinear regression) with their certified
 * values, all from memory. A fit that meets every certified digit it can shows that data and values are remembered
 * right: a wrong digit in one of them would spoil it.
 */
export interface ReferenceFit {
  readonly name: string;
  readonly linear?: boolean;
  readonly rows: readonly (readonly number[])[];
  readonly predict: (b: readonly number[], x: readonly number[]) => number;
  readonly starts: readonly (readonly number[])[];
  readonly certified: readonly number[];
  readonly deviations: readonly number[];
  readonly standardError: number;
  /** Digits in which values must agree: the conditioning of the set leaves no more. */
  readonly digits: number;
}

const norris: ReferenceFit = {
  name: 'Norris (linear, lower difficulty)',
  linear: true,
  // prettier-ignore
  rows: [
    [0.1, 0.2], [338.8, 337.4], [118.1, 118.2], [888.0, 884.6], [9.2, 10.1], [228.1, 226.5], [668.5, 666.3],
    [998.5, 996.3], [449.1, 448.6], [778.9, 777.0], [559.2, 558.2], [0.3, 0.4], [0.1, 0.6], [778.1, 775.5],
    [668.8, 666.9], [339.3, 338.0], [448.9, 447.5], [10.8, 11.6], [557.7, 556.0], [228.3, 228.1], [998.0, 995.8],
    [888.8, 887.6], [119.6, 120.2], [0.3, 0.3], [0.6, 0.3], [557.6, 556.8], [339.3, 339.1], [888.0, 887.2],
    [998.5, 999.0], [778.9, 779.0], [10.2, 11.1], [117.6, 118.3], [228.9, 229.2], [668.4, 669.1], [449.2, 448.9],
    [0.2, 0.5],
  ],
  predict: ([b0, b1], [x]) => b0! + b1! * x!,
  starts: [[1, 1]],
  certified: [-0.262323073774029, 1.00211681802045],
  deviations: [0.232818234301152, 0.429796848199937e-3],
  standardError: 0.884796396144373,
  digits: 8,
};

const longley: ReferenceFit = {
  name: 'Longley (linear, higher difficulty)',
  linear: true,
  rows: [
    [60323, 83.0, 234289, 2356, 1590, 107608, 1947],
    [61122, 88.5, 259426, 2325, 1456, 108632, 1948],
    [60171, 88.2, 258054, 3682, 1616, 109773, 1949],
    [61187, 89.5, 284599, 3351, 1650, 110929, 1950],
    [63221, 96.2, 328975, 2099, 3099, 112075, 1951],
    [63639, 98.1, 346999, 1932, 3594, 113270, 1952],
    [64989, 99.0, 365385, 1870, 3547, 115094, 1953],
    [63761, 100.0, 363112, 3578, 3350, 116219, 1954],
    [66019, 101.2, 397469, 2904, 3048, 117388, 1955],
    [67857, 104.6, 419180, 2822, 2857, 118734, 1956],
    [68169, 108.4, 442769, 2936, 2798, 120445, 1957],
    [66513, 110.8, 444546, 4681, 2637, 121950, 1958],
    [68655, 112.6, 482704, 3813, 2552, 123366, 1959],
    [69564, 114.2, 502601, 3931, 2514, 125368, 1960],
    [69331, 115.7, 518173, 4806, 2572, 127852, 1961],
    [70551, 116.9, 554894, 4007, 2827, 130081, 1962],
  ],
  predict: (b, x) => x.reduce((sum, value, j) => sum + b[j + 1]! * value, b[0]!),
  starts: [[-1e6, 10, -0.1, -1, -1, -0.1, 1000]],
  certified: [
    -3482258.63459582, 15.0618722713733, -0.35819179292591e-1, -2.02022980381683, -1.03322686717359,
    -0.511041056535807e-1, 1829.15146461355,
  ],
  deviations: [
    890420.383607373, 84.9149257747669, 0.334910077722432e-1, 0.488399681651699, 0.214274163161675,
    0.22607320006937, 455.478499142212,
  ],
  standardError: 304.854073561965,
  digits: 7,
};

const misra1a: ReferenceFit = {
  name: 'Misra1a (nonlinear, lower difficulty)',
  // prettier-ignore
  rows: [
    [10.07, 77.6], [14.73, 114.9], [17.94, 141.1], [23.93, 190.8], [29.61, 239.9], [35.18, 289.0], [40.02, 332.8],
    [44.82, 378.4], [50.76, 434.8], [55.05, 477.3], [61.01, 536.8], [66.4, 593.1], [75.47, 689.1], [81.78, 760.0],
  ],
  predict: ([b1, b2], [x]) => b1! * (1 - Math.exp(-b2! * x!)),
  starts: [
    [500, 0.0001],
    [250, 0.0005],
  ],
  certified: [2.3894212918e2, 5.5015643181e-4],
  deviations: [2.7070075241, 7.2668688436e-6],
  standardError: 1.018787633e-1,
  digits: 8,
};

const rat42: ReferenceFit = {
  name: 'Rat42 (nonlinear, higher difficulty)',
  // prettier-ignore
  rows: [
    [8.93, 9], [10.8, 14], [18.59, 21], [22.33, 28], [39.35, 42], [56.11, 57], [61.73, 63], [64.62, 70], [67.08, 79],
  ],
  predict: ([b1, b2, b3], [x]) => b1! / (1 + Math.exp(b2! - b3! * x!)),
  starts: [
    [100, 1, 0.1],
    [75, 2.5, 0.07],
  ],
  certified: [7.2462237576e1, 2.6180768402, 6.7359200066e-2],
  deviations: [1.7340283401, 8.8295217536e-2, 3.4465663377e-3],
  standardError: 1.1587725499,
  digits: 8,
};

export const REFERENCE_FITS: readonly ReferenceFit[] = [norris, longley, misra1a, rat42];
