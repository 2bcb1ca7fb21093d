/** The places of the cans that make the lowest quarter (the nearest whole number of cans to a quarter), driest first. */
export function lowQuarter(volumesMl: readonly number[]): number[] {
  const count = Math.max(1, Math.round(volumesMl.length / 4));
  return volumesMl
    .map((volume, index) => ({ volume, index }))
    .sort((a, b) => a.volume - b.volume || a.index - b.index)
    .slice(0, count)
    .map((can) => can.index);
}
