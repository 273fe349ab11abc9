/** Orders in which tacks are laid without a prediction: common practice. The first is taken where nothing speaks for another. */
export const TACK_HABITS = ['ends-first', 'seam-by-seam', 'alternate-sides', 'middle-out'] as const;

export type TackHabit = (typeof TACK_HABITS)[number];
