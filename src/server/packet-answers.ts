/** Packets for a second opinion: out as one page, answers in as text. */
import type { Context } from 'hono';
import { makePacket, packetFor, takeAnswers } from '../actions/index.ts';
import type { AnswersWish, PACKET_ROUTES, PacketWish } from '../api/index.ts';
import { packetHtml, readAnswers } from '../report/index.ts';
import { done, type Outcome } from '../units/index.ts';
import { type Answering, answered, part, valid } from './answers.ts';
import { missing } from './evidence-views.ts';
import { savedAs } from './file-answer.ts';
import type { Served } from './served.ts';

/** The page, with every picture cut from its original as in a round. */
export async function packetPage(
  served: Pick<Served, 'records' | 'files' | 'tiles' | 'clock'>,
  wish: { readonly round: string; readonly reader: string },
): Promise<Outcome<{ readonly name: string; readonly html: string }>> {
  const contents = await packetFor(served, wish);
  if (!contents.ok) return contents;
  const { round, cards, readerName, studyName, invented } = contents.value;
  const pictures = [];
  for (const { code, pass, guess, card } of cards) {
    const photo = await served.records.look((look) => look.photos.get(card.photo));
    if (!photo) return missing('picture', code);
    const cut = await served.files.withFile(photo.sha256, (path) => served.tiles.blind(path, card));
    if (!cut.ok) return cut;
    const jpeg = Buffer.from(cut.value).toString('base64');
    pictures.push({ code, pass, guess, widthUm: card.widthUm, jpeg });
  }
  const html = packetHtml({
    round: round.id,
    roundName: round.name,
    study: studyName,
    invented,
    reader: wish.reader,
    readerName,
    keyHash: round.keyHash,
    madeAt: served.clock.now(),
    pictures,
  });
  return done({ name: `second opinion, ${readerName}.html`, html });
}

export const packetAnswers = (served: Served): Readonly<Record<keyof typeof PACKET_ROUTES, Answering>> => ({
  makePacket: async (c: Context) =>
    answered(
      c,
      await makePacket(served, {
        study: part(c, 'study'),
        reader: valid<PacketWish>(c, 'json').reader,
        by: served.person,
      }),
      ({ round, reader }) => ({
        round: round.id,
        reader: reader.id,
        name: round.name,
        pictures: round.key.length,
      }),
    ),
  packet: async (c: Context) => {
    const { reader } = valid<{ reader: string }>(c, 'query');
    const page = await packetPage(served, { round: part(c, 'round'), reader });
    if (!page.ok) return answered(c, page);
    return c.body(page.value.html, 200, {
      'content-type': 'application/octet-stream',
      'content-disposition': savedAs(page.value.name),
    });
  },
  takeAnswers: async (c) => {
    const read = readAnswers(valid<AnswersWish>(c, 'json').text);
    if (!read.ok) return answered(c, read);
    const taken = await takeAnswers(served, { ...read.value, by: served.person });
    return answered(c, taken, (told) => ({ ...told, round_id: read.value.round }));
  },
});
