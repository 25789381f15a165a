/** The bench questions about liquids. */
export const LIQUID_TABLES = ['filter', 'settle', 'float', 'digest'] as const;
export type LiquidTable = (typeof LIQUID_TABLES)[number];
