import { and, eq, getTableColumns } from 'drizzle-orm';
import type { Desk } from '../../actions/index.ts';
import * as base from '../schema.ts';
import { photoMove } from '../schema-moves.ts';
import type { Database } from './database.ts';

const { turn: _, ...columns } = getTableColumns(photoMove);

export const photoMoveShelf = (db: Database): Desk['photoMoves'] => ({
  add: async (record) => void (await db.insert(photoMove).values(record)),
  ofStudy: (study) =>
    db
      .select({ ...columns, name: base.photo.name })
      .from(photoMove)
      .innerJoin(base.photo, eq(base.photo.id, photoMove.photo))
      .innerJoin(base.filter, eq(base.filter.id, base.photo.filter))
      .innerJoin(base.run, and(eq(base.run.id, base.filter.run), eq(base.run.study, study)))
      .orderBy(photoMove.turn),
});
