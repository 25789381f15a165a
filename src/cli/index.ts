export { runCommand } from './command.ts';
export type {
  Checked,
  CommandTools,
  DemoMade,
  DemoPhase,
  LaboratoryTools,
  Opened,
  PhotoSearch,
  SpectrumTools,
  Terminal,
} from './tools.ts';
