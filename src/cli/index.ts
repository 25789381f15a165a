export { runCommand } from './command.ts';
export type {
  Checked,
  CommandTools,
  DemoMade,
  DemoPhase,
  LaboratoryTools,
  Opened,
  PhotoSearch,
  Terminal,
} from './tools.ts';
