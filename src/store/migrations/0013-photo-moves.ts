/**
 * A photograph that was laid on the wrong filter is moved, or set aside; each change is a further row, the newest stands.
 * `photo_now` is the photographs with the filter that they lie on now.
 */
export const sql = `
create table photo_move (
  id uuid primary key,
  turn bigint generated always as identity unique,
  photo uuid not null references photo,
  filter uuid references filter,
  why text not null,
  by uuid not null references person,
  at timestamptz not null
);
create index photo_move_by_photo on photo_move (photo, turn desc);
create trigger only_added before update or delete on photo_move for each row execute function refuse_change();
create view photo_now as
  select p.id, coalesce(m.filter, p.filter) as filter, p.sha256, p.name, p.bytes, p.format, p.width_px, p.height_px,
    p.orientation, p.optics, p.at, p.by, (m.id is not null and m.filter is null) as aside
  from photo p
  left join lateral (
    select m.id, m.filter from photo_move m where m.photo = p.id order by m.turn desc limit 1
  ) m on true;
`;
