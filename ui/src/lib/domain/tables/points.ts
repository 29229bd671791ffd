/** Where the scale of a day's points has its ticks: Control of Vibration at Work Regulations 2005, as points by HSE. */
export const ACTION_POINTS = 100;
export const LIMIT_POINTS = 400;
