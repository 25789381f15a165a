export { runCommand } from './command.ts';
export type { CommandTools, PhotoSearch, Terminal } from './tools.ts';
