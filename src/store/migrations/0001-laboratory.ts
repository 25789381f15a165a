export const sql = `
create table laboratory (
  only_one boolean primary key default true check (only_one),
  id uuid not null,
  name text not null,
  invented boolean not null,
  made_at timestamptz not null
);

create table person (
  id uuid primary key,
  name text not null,
  initials text not null,
  since timestamptz not null
);

create table study (
  id uuid primary key,
  name text not null unique,
  invented boolean not null,
  question jsonb not null,
  made_at timestamptz not null,
  by uuid not null references person
);

create table specimen (
  id uuid primary key,
  study uuid not null references study,
  name text not null,
  role text not null check (role in ('product', 'comparison')),
  maker text not null,
  lot text not null,
  age text not null,
  material text not null,
  mass_g double precision check (mass_g > 0),
  note text not null,
  made_at timestamptz not null,
  unique (study, name)
);

create table portion (
  id uuid primary key,
  specimen uuid not null references specimen,
  name text not null,
  mass_g double precision not null check (mass_g > 0),
  mass_is text not null,
  pieces integer check (pieces > 0),
  note text not null,
  unique (specimen, name)
);

create table procedure (
  id uuid primary key,
  study uuid not null references study,
  name text not null,
  unique (study, name)
);

create table edition (
  id uuid primary key,
  procedure uuid not null references procedure,
  number integer not null check (number > 0),
  steps jsonb not null,
  because text not null,
  made_at timestamptz not null,
  by uuid not null references person,
  unique (procedure, number)
);

create table run (
  id uuid primary key,
  study uuid not null references study,
  edition uuid not null references edition,
  kind text not null,
  name text not null,
  portion uuid references portion,
  spike jsonb,
  day date not null,
  session text not null,
  "order" integer not null check ("order" > 0),
  by uuid not null references person,
  note text not null,
  made_at timestamptz not null,
  unique (study, name),
  check (kind <> 'specimen' or portion is not null)
);
create index run_by_edition on run (edition);

create table deviation (
  id uuid primary key,
  study uuid not null references study,
  runs uuid[] not null check (cardinality(runs) > 0),
  kind text not null,
  step_key text,
  as_done jsonb,
  what text not null,
  why text not null,
  at timestamptz not null,
  by uuid not null references person
);
create index deviation_by_study on deviation (study);

create table fraction (
  id uuid primary key,
  run uuid not null references run,
  kind text not null,
  volume_ml double precision not null check (volume_ml >= 0),
  place text not null,
  fate text not null,
  note text not null,
  at timestamptz not null
);
create index fraction_by_run on fraction (run);

create table optics (
  id uuid primary key,
  study uuid not null references study,
  name text not null,
  lens text not null,
  light text not null,
  um_per_px double precision check (um_per_px > 0),
  relative_uncertainty double precision,
  resolution_um double precision check (resolution_um > 0),
  note text not null,
  made_at timestamptz not null,
  unique (study, name)
);

create table filter (
  id uuid primary key,
  run uuid not null references run,
  fraction uuid references fraction,
  name text not null,
  material text not null,
  pore_um double precision not null check (pore_um > 0),
  effective_diameter_mm double precision not null check (effective_diameter_mm > 0),
  pitch_mm double precision check (pitch_mm > 0),
  lot text not null,
  examined_stated double precision check (examined_stated > 0 and examined_stated <= 1),
  note text not null,
  made_at timestamptz not null,
  unique (run, name)
);

create table photo (
  id uuid primary key,
  filter uuid not null references filter,
  sha256 text not null unique check (sha256 ~ '^[0-9a-f]{64}$'),
  name text not null,
  bytes bigint not null check (bytes > 0),
  format text not null,
  width_px integer not null check (width_px > 0),
  height_px integer not null check (height_px > 0),
  orientation integer not null check (orientation between 1 and 8),
  optics uuid references optics,
  at timestamptz not null,
  by uuid not null references person
);
create index photo_by_filter on photo (filter);

create table finding (
  id uuid primary key,
  turn bigint generated always as identity,
  photo uuid not null references photo,
  method text not null,
  version text not null,
  wish jsonb not null,
  wish_key text not null,
  scale jsonb,
  um_per_px double precision,
  grid jsonb not null,
  refusal jsonb,
  warnings jsonb not null,
  searched_fraction double precision not null,
  floor_px double precision not null,
  at timestamptz not null,
  unique (photo, method, version, wish_key)
);
create index finding_newest on finding (photo, turn desc);

create table particle (
  id uuid primary key,
  finding uuid not null references finding,
  photo uuid not null references photo,
  number integer not null check (number > 0),
  drawn_by uuid,
  standing text not null check (standing in ('unmarked', 'kept', 'dropped', 'replaced')),
  shape_now text not null,
  colour_now text not null,
  outline_px double precision[] not null,
  centroid_px double precision[] not null,
  area_px2 double precision not null,
  feret_max_px double precision not null,
  feret_min_px double precision not null,
  area_um2 double precision,
  feret_max_um double precision,
  feret_min_um double precision,
  equivalent_diameter_um double precision,
  perimeter_um double precision,
  circularity double precision not null,
  solidity double precision not null,
  fibre_length_um double precision,
  fibre_width_um double precision,
  shape text not null,
  shape_because text not null,
  colour text not null,
  lab double precision[] not null,
  touches_frame boolean not null,
  square integer[],
  frame_weight double precision not null,
  certainty jsonb not null,
  unique (finding, number)
);

create table mark (
  id uuid primary key,
  turn bigint generated always as identity unique,
  photo uuid not null references photo,
  particles uuid[] not null check (cardinality(particles) > 0),
  decision jsonb not null,
  undoes uuid unique references mark,
  by uuid not null references person,
  at timestamptz not null
);
create index mark_by_photo on mark (photo, turn);
create index mark_by_particles on mark using gin (particles);
alter table particle add foreign key (drawn_by) references mark;
create index particle_drawn_by on particle (drawn_by) where drawn_by is not null;

create table claim_snapshot (
  id uuid primary key,
  turn bigint generated always as identity,
  study uuid not null references study,
  specimen uuid not null references specimen,
  claim jsonb not null,
  counts jsonb not null,
  version text not null,
  at timestamptz not null,
  by uuid not null references person
);
create index claim_newest on claim_snapshot (specimen, turn desc);

create table journal (
  turn bigint generated always as identity primary key,
  at timestamptz not null,
  by uuid references person,
  deed text not null,
  subject text not null,
  facts jsonb not null
);

create function refuse_change() returns trigger language plpgsql as $$
begin
  raise exception 'a % is only ever added, never changed', tg_table_name;
end
$$;
create trigger only_added before update or delete on edition for each row execute function refuse_change();
create trigger only_added before update or delete on photo for each row execute function refuse_change();
create trigger only_added before update or delete on finding for each row execute function refuse_change();
create trigger only_added before update or delete on mark for each row execute function refuse_change();
create trigger only_added before update or delete on claim_snapshot for each row execute function refuse_change();
create trigger only_added before update or delete on journal for each row execute function refuse_change();
`;
