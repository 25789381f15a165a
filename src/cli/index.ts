export { runCommand } from './command.ts';
export type {
  ArchiveTools,
  Checked,
  CommandTools,
  DemoMade,
  DemoPhase,
  GroupTools,
  LaboratoryTools,
  Opened,
  PhotoSearch,
  ReportMade,
  ReportWish,
  SpectrumTools,
  Terminal,
  WholeTools,
} from './tools.ts';
