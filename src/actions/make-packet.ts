/** A packet for somebody outside in one step: the reader's name, a round of the pieces on which the claim hangs, sealed. */
import type { BlindRound, Person } from '../study/index.ts';
import { done, type Outcome } from '../units/index.ts';
import { addPerson } from './add-person.ts';
import { asId, known } from './known.ts';
import type { Tools } from './ports.ts';
import { sealRound } from './seal-round.ts';

/** A dozen of the study's own, six of each side; known pieces make a third of all. */
const OF_EACH_SIDE = 6;
const GUESS_SHARE = 0.3;

export interface PacketMade {
  readonly round: BlindRound;
  readonly reader: Person;
}

/**
 * Enters the reader where the name is new and seals a round for them and whoever makes the packet, who reads the same
 * pictures here: without a second reading there is nothing to agree with. Known pieces come from the newest set that has
 * photographed ones.
 */
export async function makePacket(
  tools: Pick<Tools, 'records' | 'clock' | 'names'>,
  wish: { readonly study: string; readonly reader: string; readonly by: string; readonly seed?: number },
): Promise<Outcome<PacketMade>> {
  const about = await tools.records.look(async (look) => {
    const study = await known(look.studies.get(asId(wish.study)), 'study', wish.study);
    if (!study.ok) return study;
    const sets = await look.knownSets.ofStudy(study.value.id);
    const names = new Set((await look.rounds.ofStudy(study.value.id)).map(({ name }) => name));
    return done({
      names,
      set: sets.findLast(({ pieces }) => pieces.some((piece) => piece.particle !== null)),
    });
  });
  if (!about.ok) return about;
  const reader = await addPerson(tools, { name: wish.reader });
  if (!reader.ok) return reader;
  const { names, set } = about.value;
  const base = `Packet for ${reader.value.name}`;
  let name = base;
  for (let again = 2; names.has(name); again++) name = `${base}, ${again}`;
  const round = await sealRound(tools, {
    study: wish.study,
    name,
    what: 'pieces',
    scorers: reader.value.id === wish.by ? [wish.by] : [wish.by, reader.value.id],
    third: null,
    knownSet: set?.id ?? null,
    mostOfEach: OF_EACH_SIDE,
    decisive: true,
    guessShare: GUESS_SHARE,
    againShare: 0,
    ...(wish.seed === undefined ? {} : { seed: wish.seed }),
    by: wish.by,
  });
  return round.ok ? done({ round: round.value, reader: reader.value }) : round;
}
