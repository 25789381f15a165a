export const sql = `
create table bench_tap (
  id uuid primary key,
  turn bigint generated always as identity unique,
  run uuid not null references run,
  device text not null,
  number bigint not null check (number > 0),
  deed jsonb not null,
  refusal jsonb,
  by uuid not null references person,
  at timestamptz not null,
  received_at timestamptz not null,
  unique (device, number)
);
create index bench_tap_by_run on bench_tap (run, turn);

create table withdrawal (
  id uuid primary key,
  study uuid not null references study,
  what text not null check (what in ('deviation', 'fraction', 'filter')),
  subject uuid not null unique,
  why text not null,
  at timestamptz not null,
  by uuid not null references person
);
create index withdrawal_by_study on withdrawal (study);

create table run_order (
  id uuid primary key,
  study uuid not null references study,
  seed bigint not null,
  method text not null,
  runs uuid[] not null,
  at timestamptz not null,
  by uuid not null references person
);
create index run_order_by_study on run_order (study, at desc);

create table photo_place (
  turn bigint generated always as identity primary key,
  photo uuid not null references photo,
  square integer[] check (cardinality(square) = 2),
  at timestamptz not null,
  by uuid not null references person
);
create index photo_place_newest on photo_place (photo, turn desc);

create table setup_photo (
  id uuid primary key,
  run uuid not null references run,
  step_key text,
  sha256 text not null check (sha256 ~ '^[0-9a-f]{64}$'),
  name text not null,
  bytes bigint not null check (bytes > 0),
  format text not null,
  width_px integer not null check (width_px > 0),
  height_px integer not null check (height_px > 0),
  orientation integer not null check (orientation between 1 and 8),
  note text not null,
  at timestamptz not null,
  by uuid not null references person,
  unique (run, sha256)
);

create trigger only_added before update or delete on bench_tap for each row execute function refuse_change();
create trigger only_added before update or delete on withdrawal for each row execute function refuse_change();
create trigger only_added before update or delete on run_order for each row execute function refuse_change();
create trigger only_added before update or delete on photo_place for each row execute function refuse_change();
create trigger only_added before update or delete on setup_photo for each row execute function refuse_change();
`;
