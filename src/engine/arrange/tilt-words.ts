/** How a sprue leans, in whole degrees above level, as it is said at the bench. */
export const tiltWords = (tilt_deg: number): string => {
  const whole = Math.round(tilt_deg)
  if (whole === 0) return 'level'
  if (Math.abs(whole) === 90) return whole > 0 ? 'straight up' : 'straight down'
  return whole > 0 ? `${whole}° above level` : `${-whole}° below level`
}
