import { parentPort } from 'node:worker_threads';
import { runCell } from './calibrate-cell.ts';
import type { Cell } from './calibrate-cells.ts';

parentPort?.on('message', (cell: Cell) => parentPort?.postMessage(runCell(cell)));
