/** To the nearest multiple of the resolution, as the nearest number to the short decimal (24.1, not 24.1000000001). */
export const rounded = (value: number, resolution: number): number => {
  const perUnit = Math.round(1 / resolution);
  return perUnit < 1 ? Math.round(value / resolution) * resolution : Math.round(value * perUnit) / perUnit;
};
