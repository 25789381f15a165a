export { runCommand } from './command.ts';
export type { Checked, CommandTools, LaboratoryTools, Opened, PhotoSearch, Terminal } from './tools.ts';
