export { type CheckReport, checkOpen, type Problem } from './check-laboratory.ts';
export { type GroupLaboratory, openGroup, shownDatabase } from './group/open-group.ts';
export { type Holder, holderOf } from './laboratory-lock.ts';
export { type OpenLaboratory, type OpenWish, openLaboratory } from './open-laboratory.ts';
export { originalsOnDisk } from './originals.ts';
export { postgresRecords } from './postgres-records.ts';
export { systemChance, systemClock, systemNames } from './surroundings.ts';
