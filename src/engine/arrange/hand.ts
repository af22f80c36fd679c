/** As near as a hand sets a wax beside a ruler, mm: half a division of one in millimetres either way; common practice. */
export const HAND = 0.5
