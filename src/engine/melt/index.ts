/**
 * Can this torch melt this charge, how hot and in what time? Pouring heat, energy, the flame's part in it,
 * thin air, the crucible's room, borax and stirring.
 * Needs the charge; for an air-fed flame the air's pressure; better, the fineness as made up.
 * Gives temperatures, energy, torch time with its range, and verdicts on torch, crucible and mould.
 * Does not know lots, flask temperature or the arm. Read plan-melt.ts first.
 */
export * from './plan-melt.ts'
