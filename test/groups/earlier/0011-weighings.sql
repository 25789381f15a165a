create table schema_step (number integer primary key, name text not null, sha256 text not null, at timestamptz not null default now());
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
create table step_kind (
  kind text primary key,
  says text not null,
  quantities jsonb not null,
  touches jsonb not null,
  brings jsonb not null,
  makes jsonb not null,
  at timestamptz not null,
  by uuid not null references person
);

create table plan (
  turn bigint generated always as identity primary key,
  id uuid not null unique,
  study uuid not null references study,
  answers jsonb not null,
  runs jsonb not null,
  at timestamptz not null,
  by uuid not null references person
);
create index plan_by_study on plan (study, turn);

create table comparison_rules (
  turn bigint generated always as identity primary key,
  id uuid not null unique,
  study uuid not null references study,
  tolerances jsonb not null,
  alike jsonb not null,
  because text not null,
  at timestamptz not null,
  by uuid not null references person
);
create index comparison_rules_by_study on comparison_rules (study, turn);
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
create table test_picture (
  id uuid primary key,
  turn bigint generated always as identity unique,
  study uuid not null references study,
  particle uuid not null references particle,
  sha256 text not null check (sha256 ~ '^[0-9a-f]{64}$'),
  name text not null,
  bytes bigint not null check (bytes > 0),
  format text not null,
  by uuid not null references person,
  at timestamptz not null
);
create index test_picture_by_study on test_picture (study);

create table bench_answer (
  id uuid primary key,
  turn bigint generated always as identity unique,
  study uuid not null references study,
  particle uuid not null references particle,
  test text not null,
  edition integer not null check (edition > 0),
  answer jsonb not null,
  origin text not null check (origin in ('bench', 'table')),
  outside text,
  before uuid references test_picture,
  after uuid references test_picture,
  note text not null,
  by uuid not null references person,
  at timestamptz not null
);
create index bench_answer_by_study on bench_answer (study, turn);
create index bench_answer_by_particle on bench_answer (particle);

create table known_set (
  id uuid primary key,
  turn bigint generated always as identity unique,
  study uuid not null references study,
  name text not null,
  made text not null,
  pieces jsonb not null,
  by uuid not null references person,
  at timestamptz not null,
  unique (study, name)
);

create table drill_answer (
  id uuid primary key,
  turn bigint generated always as identity unique,
  study uuid not null references study,
  set uuid not null references known_set,
  piece text not null,
  test text not null,
  called text not null check (called in ('plastic', 'other', 'cannot-tell')),
  announced boolean not null,
  by uuid not null references person,
  at timestamptz not null
);
create index drill_answer_by_study on drill_answer (study, turn);

create table evidence_undo (
  id uuid primary key,
  turn bigint generated always as identity unique,
  study uuid not null references study,
  undoes uuid not null unique,
  by uuid not null references person,
  at timestamptz not null
);
create index evidence_undo_by_study on evidence_undo (study);

create table confirmation (
  id uuid primary key,
  turn bigint generated always as identity unique,
  study uuid not null references study,
  name text not null,
  test text not null,
  seed bigint not null,
  strata jsonb not null,
  by uuid not null references person,
  at timestamptz not null,
  unique (study, name)
);

create table blind_round (
  id uuid primary key,
  turn bigint generated always as identity unique,
  study uuid not null references study,
  name text not null,
  what text not null check (what in ('pieces', 'fields')),
  scorers uuid[] not null check (cardinality(scorers) between 1 and 2),
  third uuid references person,
  known_set uuid references known_set,
  guess_share double precision not null,
  again_share double precision not null,
  seed bigint not null,
  key jsonb not null,
  key_hash text not null check (key_hash ~ '^[0-9a-f]{64}$'),
  by uuid not null references person,
  at timestamptz not null,
  unique (study, name)
);

create table blind_reading (
  id uuid primary key,
  turn bigint generated always as identity unique,
  round uuid not null references blind_round,
  code text not null,
  pass integer not null check (pass in (1, 2)),
  called text check (called in ('plastic', 'other', 'cannot-tell')),
  points jsonb,
  guess text check (guess in ('specimen', 'control')),
  by uuid not null references person,
  at timestamptz not null,
  check ((called is null) <> (points is null))
);
create index blind_reading_by_round on blind_reading (round, by, turn);

create table round_event (
  id uuid primary key,
  turn bigint generated always as identity unique,
  round uuid not null references blind_round,
  deed text not null check (deed in ('predict', 'lock', 'open', 'take-over')),
  says text not null,
  by uuid not null references person,
  at timestamptz not null
);
create index round_event_by_round on round_event (round, turn);
create unique index opened_once on round_event (round) where deed = 'open';

create trigger only_added before update or delete on test_picture for each row execute function refuse_change();
create trigger only_added before update or delete on bench_answer for each row execute function refuse_change();
create trigger only_added before update or delete on known_set for each row execute function refuse_change();
create trigger only_added before update or delete on drill_answer for each row execute function refuse_change();
create trigger only_added before update or delete on evidence_undo for each row execute function refuse_change();
create trigger only_added before update or delete on confirmation for each row execute function refuse_change();
create trigger only_added before update or delete on blind_round for each row execute function refuse_change();
create trigger only_added before update or delete on blind_reading for each row execute function refuse_change();
create trigger only_added before update or delete on round_event for each row execute function refuse_change();
create table account (
  person uuid primary key references person,
  login text not null unique,
  role text not null check (role in ('owner', 'bench', 'scorer', 'reader')),
  secret text not null,
  made_at timestamptz not null,
  by uuid references person,
  closed_at timestamptz
);

create table invitation (
  code_sha256 text primary key,
  role text not null check (role in ('owner', 'bench', 'scorer', 'reader')),
  note text not null,
  made_at timestamptz not null,
  by uuid references person,
  ends_at timestamptz not null,
  used_by uuid references person,
  used_at timestamptz
);

create table session (
  token_sha256 text primary key,
  person uuid not null references account (person),
  begun_at timestamptz not null,
  ends_at timestamptz not null,
  ended_at timestamptz
);
create index session_of_person on session (person);

create table photo_search (
  photo uuid primary key references photo,
  study uuid not null references study,
  state text not null check (state in ('waiting', 'searching', 'searched', 'refused', 'set-aside')),
  refusal jsonb,
  tries integer not null,
  worker text not null,
  at timestamptz not null
);
create index photo_search_by_study on photo_search (study, state);
create table spectrum_file (
  id uuid primary key,
  turn bigint generated always as identity unique,
  study uuid not null references study,
  particle uuid references particle,
  material text,
  sha256 text not null check (sha256 ~ '^[0-9a-f]{64}$'),
  name text not null,
  bytes bigint not null check (bytes > 0),
  technique text not null check (technique in ('infrared', 'raman')),
  match jsonb,
  by uuid not null references person,
  at timestamptz not null,
  check ((particle is null) <> (material is null))
);
create index spectrum_file_by_study on spectrum_file (study);
create index spectrum_file_by_particle on spectrum_file (particle);
create table published_value (
  id uuid primary key,
  turn bigint generated always as identity unique,
  entry uuid not null,
  study uuid not null references study,
  specimen uuid not null references specimen,
  stands boolean not null,
  source text not null,
  per_gram double precision not null check (per_gram >= 0),
  spread jsonb not null,
  size_from_um double precision check (size_from_um > 0),
  size_to_um double precision check (size_to_um > size_from_um),
  bands jsonb not null,
  answers jsonb not null,
  note text not null,
  by uuid not null references person,
  at timestamptz not null
);
create index published_value_by_study on published_value (study);
create table joining (
  id uuid primary key,
  turn bigint generated always as identity unique,
  filter uuid not null references filter,
  apart boolean not null,
  findings uuid[] not null,
  links jsonb not null,
  placed uuid[] not null,
  once double precision not null check (once > 0 and once <= 1),
  by uuid references person,
  at timestamptz not null
);
create index joining_by_filter on joining (filter, turn desc);
create trigger only_added before update or delete on joining for each row execute function refuse_change();

alter table particle add column counts_on uuid;
create table completeness (
  id uuid primary key,
  turn bigint generated always as identity unique,
  study uuid not null references study,
  photos uuid[] not null,
  result jsonb not null,
  by uuid not null references person,
  at timestamptz not null
);
create index completeness_by_study on completeness (study, turn desc);
create trigger only_added before update or delete on completeness for each row execute function refuse_change();
create table search_settings (
  id uuid primary key,
  turn bigint generated always as identity unique,
  study uuid not null references study,
  false_finds_per_blank double precision not null check (false_finds_per_blank > 0),
  smallest_um double precision check (smallest_um > 0),
  by uuid not null references person,
  at timestamptz not null
);
create index search_settings_by_study on search_settings (study, turn desc);
create trigger only_added before update or delete on search_settings for each row execute function refuse_change();

alter table mark add column carries uuid;
create table weighing (
  id uuid primary key,
  turn bigint generated always as identity unique,
  run uuid not null references run,
  stands boolean not null,
  before_g double precision not null check (before_g > 0),
  after_g double precision not null check (after_g > 0),
  uncertainty_g double precision not null check (uncertainty_g > 0),
  note text not null,
  by uuid not null references person,
  at timestamptz not null
);
create index weighing_by_run on weighing (run, turn desc);
create trigger only_added before update or delete on weighing for each row execute function refuse_change();
set session_replication_role = replica;
insert into "bench_tap" ("id", "turn", "run", "device", "number", "deed", "refusal", "by", "at", "received_at") overriding system value values ('00000000-0000-7000-8001-000000000051', '1', '00000000-0000-7000-8001-000000000008', 'telephone', '1', '{"do": "begin"}', null, '00000000-0000-7000-8001-000000000002', '2026-01-05 09:00:52+00', '2026-01-05 09:00:53+00');
insert into "claim_snapshot" ("id", "turn", "study", "specimen", "claim", "counts", "version", "at", "by") overriding system value values ('00000000-0000-7000-8001-000000000050', '1', '00000000-0000-7000-8001-000000000003', '00000000-0000-7000-8001-000000000004', '{"gaps": [], "next": [{"why": "reach-minimum", "moves": "The study can then make a claim, which needs at least 4 specimen runs and 4 controls, or 3 of one and 5 of the other.", "message": "Make 2 more matching controls and 2 more specimen runs."}, {"why": "more-controls", "moves": "If they look like the others, the count that stands out goes from 12 to 11.", "message": "Make 2 more controls."}], "state": "cannot-be-judged", "because": [{"why": "counts", "message": "1 in 2 specimen runs; 5 in 2 controls, so 4.4 are expected without the product."}, {"why": "within-background", "message": "Not above the background at one-sided 5 %, by the exact conditional test (p = 0.98)."}, {"why": "threshold", "message": "With these controls 12 or more would stand out; a true excess of 14 would do so 95 % of the time."}, {"why": "controls-assumed-poisson", "message": "With 2 specimen runs and 2 controls the decision and the interval rest on the assumption that runs scatter no more than Poisson; at least 4 specimen runs and 4 controls, or 3 of one and 5 of the other would free it from that."}, {"why": "limit-held-at-none-found", "message": "The background is above the count; the upper limit is held at that of none found over none, and goes no lower."}, {"why": "recovery-outside-convention", "message": "Only 60 % of known pieces came back; the number is corrected for it, and rests on it."}, {"why": "by-eye", "message": "Pieces were told from others by eye alone: they are suspected, not identified."}], "sentence": "No result can be stated yet: 2 specimen runs and 2 matching controls are too few to know how runs scatter. The raw count, 1 in 2 specimen runs, is kept and not interpreted.", "attributed": false, "netPerGram": null, "identifiedBy": "by-eye", "upperLimitPerGram": null}', '{"drill": null, "spikes": [{"added": 10, "found": 6}], "controls": [{"kind": "act-control", "name": "C1", "count": 2, "passed": 1, "examined": 1, "candidates": 3}, {"kind": "act-control", "name": "C2", "count": 3, "passed": 1, "examined": 1, "candidates": 4}], "portions": [{"name": "S1", "count": 0, "massG": 50, "passed": 1, "examined": 1, "candidates": 1}, {"name": "S2", "count": 1, "massG": 50, "passed": 0.75, "examined": 1, "candidates": 2, "effortUncertainty": 0.0035355339059327377}], "recovery": {"added": 10, "found": 6}, "confidence": 0.95}', '0.0.0', '2026-01-05 09:00:51+00', '00000000-0000-7000-8001-000000000002');
insert into "edition" ("id", "procedure", "number", "steps", "because", "made_at", "by") overriding system value values ('00000000-0000-7000-8001-000000000006', '00000000-0000-7000-8001-000000000005', '1', '[{"key": "cut", "kind": "cut", "note": "", "touches": {"tool": null, "place": "bench", "liquid": null, "optics": null, "person": null, "vessel": "beaker", "filterLot": null, "reagentLot": null}, "openings": null, "quantities": {"times": 100}, "minutesUncovered": 1}, {"key": "filter", "kind": "filter", "note": "", "touches": {"tool": null, "place": "bench", "liquid": null, "optics": null, "person": null, "vessel": "beaker", "filterLot": null, "reagentLot": null}, "openings": null, "quantities": {"pore_um": 10, "volume_ml": 200}, "minutesUncovered": 1}]', '', '2026-01-05 09:00:06+00', '00000000-0000-7000-8001-000000000002');
insert into "filter" ("id", "run", "fraction", "name", "material", "pore_um", "effective_diameter_mm", "pitch_mm", "lot", "examined_stated", "note", "made_at") overriding system value values ('00000000-0000-7000-8001-00000000000a', '00000000-0000-7000-8001-000000000008', null, 'filter S1', 'cellulose nitrate', '10', '9', '3.1', 'L1', null, '', '2026-01-05 09:00:09+00');
insert into "filter" ("id", "run", "fraction", "name", "material", "pore_um", "effective_diameter_mm", "pitch_mm", "lot", "examined_stated", "note", "made_at") overriding system value values ('00000000-0000-7000-8001-00000000000f', '00000000-0000-7000-8001-00000000000c', null, 'filter S2', 'cellulose nitrate', '10', '9', '3.1', 'L1', null, '', '2026-01-05 09:00:13+00');
insert into "filter" ("id", "run", "fraction", "name", "material", "pore_um", "effective_diameter_mm", "pitch_mm", "lot", "examined_stated", "note", "made_at") overriding system value values ('00000000-0000-7000-8001-000000000012', '00000000-0000-7000-8001-000000000010', null, 'filter C1', 'cellulose nitrate', '10', '9', '3.1', 'L1', null, '', '2026-01-05 09:00:16+00');
insert into "filter" ("id", "run", "fraction", "name", "material", "pore_um", "effective_diameter_mm", "pitch_mm", "lot", "examined_stated", "note", "made_at") overriding system value values ('00000000-0000-7000-8001-000000000015', '00000000-0000-7000-8001-000000000013', null, 'filter C2', 'cellulose nitrate', '10', '9', '3.1', 'L1', null, '', '2026-01-05 09:00:19+00');
insert into "filter" ("id", "run", "fraction", "name", "material", "pore_um", "effective_diameter_mm", "pitch_mm", "lot", "examined_stated", "note", "made_at") overriding system value values ('00000000-0000-7000-8001-000000000018', '00000000-0000-7000-8001-000000000016', null, 'filter B1', 'cellulose nitrate', '10', '9', '3.1', 'L1', null, '', '2026-01-05 09:00:22+00');
insert into "filter" ("id", "run", "fraction", "name", "material", "pore_um", "effective_diameter_mm", "pitch_mm", "lot", "examined_stated", "note", "made_at") overriding system value values ('00000000-0000-7000-8001-00000000001b', '00000000-0000-7000-8001-000000000019', null, 'filter K1', 'cellulose nitrate', '10', '9', '3.1', 'L1', null, '', '2026-01-05 09:00:25+00');
insert into "finding" ("id", "turn", "photo", "method", "version", "wish", "wish_key", "scale", "um_per_px", "grid", "refusal", "warnings", "searched_fraction", "floor_px", "at") overriding system value values ('00000000-0000-7000-8001-00000000001d', '1', '00000000-0000-7000-8001-00000000001c', 'pretended', '1', '{"scale": {"from": "printed-grid", "pitch": 3.1}, "smallest": null, "falseFindsPerBlank": 0.5}', 'printed-grid 3.1 | smallest - | false 0.5', '{"basis": "printed-grid", "pitch": 3.1, "squares": 6, "umPerPx": 5, "rotationDeg": 0.5, "relativeUncertainty": 0.002}', '5', '[]', null, '[]', '0.9', '6', '2026-01-05 09:00:27+00');
insert into "finding" ("id", "turn", "photo", "method", "version", "wish", "wish_key", "scale", "um_per_px", "grid", "refusal", "warnings", "searched_fraction", "floor_px", "at") overriding system value values ('00000000-0000-7000-8001-000000000023', '2', '00000000-0000-7000-8001-000000000022', 'pretended', '1', '{"scale": {"from": "printed-grid", "pitch": 3.1}, "smallest": null, "falseFindsPerBlank": 0.5}', 'printed-grid 3.1 | smallest - | false 0.5', '{"basis": "printed-grid", "pitch": 3.1, "squares": 6, "umPerPx": 5, "rotationDeg": 0.5, "relativeUncertainty": 0.002}', '5', '[]', null, '[]', '0.9', '6', '2026-01-05 09:00:31+00');
insert into "finding" ("id", "turn", "photo", "method", "version", "wish", "wish_key", "scale", "um_per_px", "grid", "refusal", "warnings", "searched_fraction", "floor_px", "at") overriding system value values ('00000000-0000-7000-8001-00000000002a', '3', '00000000-0000-7000-8001-000000000029', 'pretended', '1', '{"scale": {"from": "printed-grid", "pitch": 3.1}, "smallest": null, "falseFindsPerBlank": 0.5}', 'printed-grid 3.1 | smallest - | false 0.5', '{"basis": "printed-grid", "pitch": 3.1, "squares": 6, "umPerPx": 5, "rotationDeg": 0.5, "relativeUncertainty": 0.002}', '5', '[]', null, '[]', '0.9', '6', '2026-01-05 09:00:35+00');
insert into "finding" ("id", "turn", "photo", "method", "version", "wish", "wish_key", "scale", "um_per_px", "grid", "refusal", "warnings", "searched_fraction", "floor_px", "at") overriding system value values ('00000000-0000-7000-8001-000000000032', '4', '00000000-0000-7000-8001-000000000031', 'pretended', '1', '{"scale": {"from": "printed-grid", "pitch": 3.1}, "smallest": null, "falseFindsPerBlank": 0.5}', 'printed-grid 3.1 | smallest - | false 0.5', '{"basis": "printed-grid", "pitch": 3.1, "squares": 6, "umPerPx": 5, "rotationDeg": 0.5, "relativeUncertainty": 0.002}', '5', '[]', null, '[]', '0.9', '6', '2026-01-05 09:00:39+00');
insert into "finding" ("id", "turn", "photo", "method", "version", "wish", "wish_key", "scale", "um_per_px", "grid", "refusal", "warnings", "searched_fraction", "floor_px", "at") overriding system value values ('00000000-0000-7000-8001-00000000003b', '5', '00000000-0000-7000-8001-00000000003a', 'pretended', '1', '{"scale": {"from": "printed-grid", "pitch": 3.1}, "smallest": null, "falseFindsPerBlank": 0.5}', 'printed-grid 3.1 | smallest - | false 0.5', '{"basis": "printed-grid", "pitch": 3.1, "squares": 6, "umPerPx": 5, "rotationDeg": 0.5, "relativeUncertainty": 0.002}', '5', '[]', null, '[]', '0.9', '6', '2026-01-05 09:00:43+00');
insert into "finding" ("id", "turn", "photo", "method", "version", "wish", "wish_key", "scale", "um_per_px", "grid", "refusal", "warnings", "searched_fraction", "floor_px", "at") overriding system value values ('00000000-0000-7000-8001-000000000045', '6', '00000000-0000-7000-8001-000000000044', 'pretended', '1', '{"scale": {"from": "printed-grid", "pitch": 3.1}, "smallest": null, "falseFindsPerBlank": 0.5}', 'printed-grid 3.1 | smallest - | false 0.5', '{"basis": "printed-grid", "pitch": 3.1, "squares": 6, "umPerPx": 5, "rotationDeg": 0.5, "relativeUncertainty": 0.002}', '5', '[]', null, '[]', '0.9', '6', '2026-01-05 09:00:47+00');
insert into "fraction" ("id", "run", "kind", "volume_ml", "place", "fate", "note", "at") overriding system value values ('00000000-0000-7000-8001-000000000009', '00000000-0000-7000-8001-000000000008', 'passed', '200', '', 'examined', '', '2026-01-05 09:00:08+00');
insert into "fraction" ("id", "run", "kind", "volume_ml", "place", "fate", "note", "at") overriding system value values ('00000000-0000-7000-8001-00000000000d', '00000000-0000-7000-8001-00000000000c', 'passed', '150', '', 'examined', '', '2026-01-05 09:00:11+00');
insert into "fraction" ("id", "run", "kind", "volume_ml", "place", "fate", "note", "at") overriding system value values ('00000000-0000-7000-8001-00000000000e', '00000000-0000-7000-8001-00000000000c', 'remainder', '50', 'cold shelf, bottle 2', 'kept', 'the filter clogged', '2026-01-05 09:00:12+00');
insert into "fraction" ("id", "run", "kind", "volume_ml", "place", "fate", "note", "at") overriding system value values ('00000000-0000-7000-8001-000000000011', '00000000-0000-7000-8001-000000000010', 'passed', '200', '', 'examined', '', '2026-01-05 09:00:15+00');
insert into "fraction" ("id", "run", "kind", "volume_ml", "place", "fate", "note", "at") overriding system value values ('00000000-0000-7000-8001-000000000014', '00000000-0000-7000-8001-000000000013', 'passed', '200', '', 'examined', '', '2026-01-05 09:00:18+00');
insert into "fraction" ("id", "run", "kind", "volume_ml", "place", "fate", "note", "at") overriding system value values ('00000000-0000-7000-8001-000000000017', '00000000-0000-7000-8001-000000000016', 'passed', '200', '', 'examined', '', '2026-01-05 09:00:21+00');
insert into "fraction" ("id", "run", "kind", "volume_ml", "place", "fate", "note", "at") overriding system value values ('00000000-0000-7000-8001-00000000001a', '00000000-0000-7000-8001-000000000019', 'passed', '200', '', 'examined', '', '2026-01-05 09:00:24+00');
insert into "laboratory" ("only_one", "id", "name", "invented", "made_at") overriding system value values ('true', '00000000-0000-7000-8001-000000000001', 'Earlier', 'true', '2026-01-05 09:00:02+00');
insert into "mark" ("id", "turn", "photo", "particles", "decision", "undoes", "by", "at", "carries") overriding system value values ('00000000-0000-7000-8001-000000000020', '1', '00000000-0000-7000-8001-00000000001c', '{00000000-0000-7000-8001-00000000001e}', '{"kind": "keep"}', null, '00000000-0000-7000-8001-000000000002', '2026-01-05 09:00:28+00', null);
insert into "mark" ("id", "turn", "photo", "particles", "decision", "undoes", "by", "at", "carries") overriding system value values ('00000000-0000-7000-8001-000000000021', '2', '00000000-0000-7000-8001-00000000001c', '{00000000-0000-7000-8001-00000000001f}', '{"kind": "drop"}', null, '00000000-0000-7000-8001-000000000002', '2026-01-05 09:00:29+00', null);
insert into "mark" ("id", "turn", "photo", "particles", "decision", "undoes", "by", "at", "carries") overriding system value values ('00000000-0000-7000-8001-000000000027', '3', '00000000-0000-7000-8001-000000000022', '{00000000-0000-7000-8001-000000000024}', '{"kind": "keep"}', null, '00000000-0000-7000-8001-000000000002', '2026-01-05 09:00:32+00', null);
insert into "mark" ("id", "turn", "photo", "particles", "decision", "undoes", "by", "at", "carries") overriding system value values ('00000000-0000-7000-8001-000000000028', '4', '00000000-0000-7000-8001-000000000022', '{00000000-0000-7000-8001-000000000025}', '{"kind": "drop"}', null, '00000000-0000-7000-8001-000000000002', '2026-01-05 09:00:33+00', null);
insert into "mark" ("id", "turn", "photo", "particles", "decision", "undoes", "by", "at", "carries") overriding system value values ('00000000-0000-7000-8001-00000000002f', '5', '00000000-0000-7000-8001-000000000029', '{00000000-0000-7000-8001-00000000002b}', '{"kind": "keep"}', null, '00000000-0000-7000-8001-000000000002', '2026-01-05 09:00:36+00', null);
insert into "mark" ("id", "turn", "photo", "particles", "decision", "undoes", "by", "at", "carries") overriding system value values ('00000000-0000-7000-8001-000000000030', '6', '00000000-0000-7000-8001-000000000029', '{00000000-0000-7000-8001-00000000002c}', '{"kind": "drop"}', null, '00000000-0000-7000-8001-000000000002', '2026-01-05 09:00:37+00', null);
insert into "mark" ("id", "turn", "photo", "particles", "decision", "undoes", "by", "at", "carries") overriding system value values ('00000000-0000-7000-8001-000000000038', '7', '00000000-0000-7000-8001-000000000031', '{00000000-0000-7000-8001-000000000033}', '{"kind": "keep"}', null, '00000000-0000-7000-8001-000000000002', '2026-01-05 09:00:40+00', null);
insert into "mark" ("id", "turn", "photo", "particles", "decision", "undoes", "by", "at", "carries") overriding system value values ('00000000-0000-7000-8001-000000000039', '8', '00000000-0000-7000-8001-000000000031', '{00000000-0000-7000-8001-000000000034}', '{"kind": "drop"}', null, '00000000-0000-7000-8001-000000000002', '2026-01-05 09:00:41+00', null);
insert into "mark" ("id", "turn", "photo", "particles", "decision", "undoes", "by", "at", "carries") overriding system value values ('00000000-0000-7000-8001-000000000042', '9', '00000000-0000-7000-8001-00000000003a', '{00000000-0000-7000-8001-00000000003c}', '{"kind": "keep"}', null, '00000000-0000-7000-8001-000000000002', '2026-01-05 09:00:44+00', null);
insert into "mark" ("id", "turn", "photo", "particles", "decision", "undoes", "by", "at", "carries") overriding system value values ('00000000-0000-7000-8001-000000000043', '10', '00000000-0000-7000-8001-00000000003a', '{00000000-0000-7000-8001-00000000003d}', '{"kind": "drop"}', null, '00000000-0000-7000-8001-000000000002', '2026-01-05 09:00:45+00', null);
insert into "mark" ("id", "turn", "photo", "particles", "decision", "undoes", "by", "at", "carries") overriding system value values ('00000000-0000-7000-8001-00000000004d', '11', '00000000-0000-7000-8001-000000000044', '{00000000-0000-7000-8001-000000000046}', '{"kind": "keep"}', null, '00000000-0000-7000-8001-000000000002', '2026-01-05 09:00:48+00', null);
insert into "mark" ("id", "turn", "photo", "particles", "decision", "undoes", "by", "at", "carries") overriding system value values ('00000000-0000-7000-8001-00000000004e', '12', '00000000-0000-7000-8001-000000000044', '{00000000-0000-7000-8001-000000000047}', '{"kind": "drop"}', null, '00000000-0000-7000-8001-000000000002', '2026-01-05 09:00:49+00', null);
insert into "mark" ("id", "turn", "photo", "particles", "decision", "undoes", "by", "at", "carries") overriding system value values ('00000000-0000-7000-8001-00000000004f', '13', '00000000-0000-7000-8001-000000000044', '{00000000-0000-7000-8001-000000000047}', '{"kind": "undo", "undoes": "00000000-0000-7000-8001-00000000004e"}', '00000000-0000-7000-8001-00000000004e', '00000000-0000-7000-8001-000000000002', '2026-01-05 09:00:50+00', null);
insert into "particle" ("id", "finding", "photo", "number", "drawn_by", "standing", "shape_now", "colour_now", "outline_px", "centroid_px", "area_px2", "feret_max_px", "feret_min_px", "area_um2", "feret_max_um", "feret_min_um", "equivalent_diameter_um", "perimeter_um", "circularity", "solidity", "fibre_length_um", "fibre_width_um", "shape", "shape_because", "colour", "lab", "touches_frame", "square", "frame_weight", "certainty", "counts_on") overriding system value values ('00000000-0000-7000-8001-00000000001e', '00000000-0000-7000-8001-00000000001d', '00000000-0000-7000-8001-00000000001c', '1', null, 'kept', 'fragment', 'blue', '{10,10,15,10.5,15,15,10,15}', '{12.5,12.5}', '25', '7', '5', '625', '35', '25', '28', '100', '0.88', '1', null, null, 'fragment', 'pretended', 'blue', '{60.25,-3.5,12.125}', 'false', '{1,2}', '1', '{"real": 0.97, "ridge": 0, "colour": 3, "lightness": 9.5}', null);
insert into "particle" ("id", "finding", "photo", "number", "drawn_by", "standing", "shape_now", "colour_now", "outline_px", "centroid_px", "area_px2", "feret_max_px", "feret_min_px", "area_um2", "feret_max_um", "feret_min_um", "equivalent_diameter_um", "perimeter_um", "circularity", "solidity", "fibre_length_um", "fibre_width_um", "shape", "shape_because", "colour", "lab", "touches_frame", "square", "frame_weight", "certainty", "counts_on") overriding system value values ('00000000-0000-7000-8001-00000000001f', '00000000-0000-7000-8001-00000000001d', '00000000-0000-7000-8001-00000000001c', '2', null, 'dropped', 'fragment', 'blue', '{13,10,28,10.5,28,25,13,25}', '{20.5,17.5}', '225', '21', '15', '5625', '105', '75', '84', '300', '0.88', '1', null, null, 'fragment', 'pretended', 'blue', '{60.25,-3.5,12.125}', 'false', null, '1', '{"real": 0.97, "ridge": 0, "colour": 3, "lightness": 9.5}', null);
insert into "particle" ("id", "finding", "photo", "number", "drawn_by", "standing", "shape_now", "colour_now", "outline_px", "centroid_px", "area_px2", "feret_max_px", "feret_min_px", "area_um2", "feret_max_um", "feret_min_um", "equivalent_diameter_um", "perimeter_um", "circularity", "solidity", "fibre_length_um", "fibre_width_um", "shape", "shape_because", "colour", "lab", "touches_frame", "square", "frame_weight", "certainty", "counts_on") overriding system value values ('00000000-0000-7000-8001-000000000024', '00000000-0000-7000-8001-000000000023', '00000000-0000-7000-8001-000000000022', '1', null, 'kept', 'fragment', 'blue', '{10,10,15,10.5,15,15,10,15}', '{12.5,12.5}', '25', '7', '5', '625', '35', '25', '28', '100', '0.88', '1', null, null, 'fragment', 'pretended', 'blue', '{60.25,-3.5,12.125}', 'false', '{1,2}', '1', '{"real": 0.97, "ridge": 0, "colour": 3, "lightness": 9.5}', null);
insert into "particle" ("id", "finding", "photo", "number", "drawn_by", "standing", "shape_now", "colour_now", "outline_px", "centroid_px", "area_px2", "feret_max_px", "feret_min_px", "area_um2", "feret_max_um", "feret_min_um", "equivalent_diameter_um", "perimeter_um", "circularity", "solidity", "fibre_length_um", "fibre_width_um", "shape", "shape_because", "colour", "lab", "touches_frame", "square", "frame_weight", "certainty", "counts_on") overriding system value values ('00000000-0000-7000-8001-000000000025', '00000000-0000-7000-8001-000000000023', '00000000-0000-7000-8001-000000000022', '2', null, 'dropped', 'fragment', 'blue', '{13,10,28,10.5,28,25,13,25}', '{20.5,17.5}', '225', '21', '15', '5625', '105', '75', '84', '300', '0.88', '1', null, null, 'fragment', 'pretended', 'blue', '{60.25,-3.5,12.125}', 'false', null, '1', '{"real": 0.97, "ridge": 0, "colour": 3, "lightness": 9.5}', null);
insert into "particle" ("id", "finding", "photo", "number", "drawn_by", "standing", "shape_now", "colour_now", "outline_px", "centroid_px", "area_px2", "feret_max_px", "feret_min_px", "area_um2", "feret_max_um", "feret_min_um", "equivalent_diameter_um", "perimeter_um", "circularity", "solidity", "fibre_length_um", "fibre_width_um", "shape", "shape_because", "colour", "lab", "touches_frame", "square", "frame_weight", "certainty", "counts_on") overriding system value values ('00000000-0000-7000-8001-000000000026', '00000000-0000-7000-8001-000000000023', '00000000-0000-7000-8001-000000000022', '3', null, 'unmarked', 'fragment', 'blue', '{16,10,41,10.5,41,35,16,35}', '{28.5,22.5}', '625', '35', '25', '15625', '175', '125', '140', '500', '0.88', '1', null, null, 'fragment', 'pretended', 'blue', '{60.25,-3.5,12.125}', 'false', '{1,2}', '1', '{"real": 0.97, "ridge": 0, "colour": 3, "lightness": 9.5}', null);
insert into "particle" ("id", "finding", "photo", "number", "drawn_by", "standing", "shape_now", "colour_now", "outline_px", "centroid_px", "area_px2", "feret_max_px", "feret_min_px", "area_um2", "feret_max_um", "feret_min_um", "equivalent_diameter_um", "perimeter_um", "circularity", "solidity", "fibre_length_um", "fibre_width_um", "shape", "shape_because", "colour", "lab", "touches_frame", "square", "frame_weight", "certainty", "counts_on") overriding system value values ('00000000-0000-7000-8001-00000000002b', '00000000-0000-7000-8001-00000000002a', '00000000-0000-7000-8001-000000000029', '1', null, 'kept', 'fragment', 'blue', '{10,10,15,10.5,15,15,10,15}', '{12.5,12.5}', '25', '7', '5', '625', '35', '25', '28', '100', '0.88', '1', null, null, 'fragment', 'pretended', 'blue', '{60.25,-3.5,12.125}', 'false', '{1,2}', '1', '{"real": 0.97, "ridge": 0, "colour": 3, "lightness": 9.5}', null);
insert into "particle" ("id", "finding", "photo", "number", "drawn_by", "standing", "shape_now", "colour_now", "outline_px", "centroid_px", "area_px2", "feret_max_px", "feret_min_px", "area_um2", "feret_max_um", "feret_min_um", "equivalent_diameter_um", "perimeter_um", "circularity", "solidity", "fibre_length_um", "fibre_width_um", "shape", "shape_because", "colour", "lab", "touches_frame", "square", "frame_weight", "certainty", "counts_on") overriding system value values ('00000000-0000-7000-8001-00000000002c', '00000000-0000-7000-8001-00000000002a', '00000000-0000-7000-8001-000000000029', '2', null, 'dropped', 'fragment', 'blue', '{13,10,28,10.5,28,25,13,25}', '{20.5,17.5}', '225', '21', '15', '5625', '105', '75', '84', '300', '0.88', '1', null, null, 'fragment', 'pretended', 'blue', '{60.25,-3.5,12.125}', 'false', null, '1', '{"real": 0.97, "ridge": 0, "colour": 3, "lightness": 9.5}', null);
insert into "particle" ("id", "finding", "photo", "number", "drawn_by", "standing", "shape_now", "colour_now", "outline_px", "centroid_px", "area_px2", "feret_max_px", "feret_min_px", "area_um2", "feret_max_um", "feret_min_um", "equivalent_diameter_um", "perimeter_um", "circularity", "solidity", "fibre_length_um", "fibre_width_um", "shape", "shape_because", "colour", "lab", "touches_frame", "square", "frame_weight", "certainty", "counts_on") overriding system value values ('00000000-0000-7000-8001-00000000002d', '00000000-0000-7000-8001-00000000002a', '00000000-0000-7000-8001-000000000029', '3', null, 'unmarked', 'fragment', 'blue', '{16,10,41,10.5,41,35,16,35}', '{28.5,22.5}', '625', '35', '25', '15625', '175', '125', '140', '500', '0.88', '1', null, null, 'fragment', 'pretended', 'blue', '{60.25,-3.5,12.125}', 'false', '{1,2}', '1', '{"real": 0.97, "ridge": 0, "colour": 3, "lightness": 9.5}', null);
insert into "particle" ("id", "finding", "photo", "number", "drawn_by", "standing", "shape_now", "colour_now", "outline_px", "centroid_px", "area_px2", "feret_max_px", "feret_min_px", "area_um2", "feret_max_um", "feret_min_um", "equivalent_diameter_um", "perimeter_um", "circularity", "solidity", "fibre_length_um", "fibre_width_um", "shape", "shape_because", "colour", "lab", "touches_frame", "square", "frame_weight", "certainty", "counts_on") overriding system value values ('00000000-0000-7000-8001-00000000002e', '00000000-0000-7000-8001-00000000002a', '00000000-0000-7000-8001-000000000029', '4', null, 'unmarked', 'fragment', 'blue', '{19,10,54,10.5,54,45,19,45}', '{36.5,27.5}', '1225', '49', '35', '30625', '245', '175', '196', '700', '0.88', '1', null, null, 'fragment', 'pretended', 'blue', '{60.25,-3.5,12.125}', 'false', null, '1', '{"real": 0.97, "ridge": 0, "colour": 3, "lightness": 9.5}', null);
insert into "particle" ("id", "finding", "photo", "number", "drawn_by", "standing", "shape_now", "colour_now", "outline_px", "centroid_px", "area_px2", "feret_max_px", "feret_min_px", "area_um2", "feret_max_um", "feret_min_um", "equivalent_diameter_um", "perimeter_um", "circularity", "solidity", "fibre_length_um", "fibre_width_um", "shape", "shape_because", "colour", "lab", "touches_frame", "square", "frame_weight", "certainty", "counts_on") overriding system value values ('00000000-0000-7000-8001-000000000033', '00000000-0000-7000-8001-000000000032', '00000000-0000-7000-8001-000000000031', '1', null, 'kept', 'fragment', 'blue', '{10,10,15,10.5,15,15,10,15}', '{12.5,12.5}', '25', '7', '5', '625', '35', '25', '28', '100', '0.88', '1', null, null, 'fragment', 'pretended', 'blue', '{60.25,-3.5,12.125}', 'false', '{1,2}', '1', '{"real": 0.97, "ridge": 0, "colour": 3, "lightness": 9.5}', null);
insert into "particle" ("id", "finding", "photo", "number", "drawn_by", "standing", "shape_now", "colour_now", "outline_px", "centroid_px", "area_px2", "feret_max_px", "feret_min_px", "area_um2", "feret_max_um", "feret_min_um", "equivalent_diameter_um", "perimeter_um", "circularity", "solidity", "fibre_length_um", "fibre_width_um", "shape", "shape_because", "colour", "lab", "touches_frame", "square", "frame_weight", "certainty", "counts_on") overriding system value values ('00000000-0000-7000-8001-000000000034', '00000000-0000-7000-8001-000000000032', '00000000-0000-7000-8001-000000000031', '2', null, 'dropped', 'fragment', 'blue', '{13,10,28,10.5,28,25,13,25}', '{20.5,17.5}', '225', '21', '15', '5625', '105', '75', '84', '300', '0.88', '1', null, null, 'fragment', 'pretended', 'blue', '{60.25,-3.5,12.125}', 'false', null, '1', '{"real": 0.97, "ridge": 0, "colour": 3, "lightness": 9.5}', null);
insert into "particle" ("id", "finding", "photo", "number", "drawn_by", "standing", "shape_now", "colour_now", "outline_px", "centroid_px", "area_px2", "feret_max_px", "feret_min_px", "area_um2", "feret_max_um", "feret_min_um", "equivalent_diameter_um", "perimeter_um", "circularity", "solidity", "fibre_length_um", "fibre_width_um", "shape", "shape_because", "colour", "lab", "touches_frame", "square", "frame_weight", "certainty", "counts_on") overriding system value values ('00000000-0000-7000-8001-000000000035', '00000000-0000-7000-8001-000000000032', '00000000-0000-7000-8001-000000000031', '3', null, 'unmarked', 'fragment', 'blue', '{16,10,41,10.5,41,35,16,35}', '{28.5,22.5}', '625', '35', '25', '15625', '175', '125', '140', '500', '0.88', '1', null, null, 'fragment', 'pretended', 'blue', '{60.25,-3.5,12.125}', 'false', '{1,2}', '1', '{"real": 0.97, "ridge": 0, "colour": 3, "lightness": 9.5}', null);
insert into "particle" ("id", "finding", "photo", "number", "drawn_by", "standing", "shape_now", "colour_now", "outline_px", "centroid_px", "area_px2", "feret_max_px", "feret_min_px", "area_um2", "feret_max_um", "feret_min_um", "equivalent_diameter_um", "perimeter_um", "circularity", "solidity", "fibre_length_um", "fibre_width_um", "shape", "shape_because", "colour", "lab", "touches_frame", "square", "frame_weight", "certainty", "counts_on") overriding system value values ('00000000-0000-7000-8001-000000000036', '00000000-0000-7000-8001-000000000032', '00000000-0000-7000-8001-000000000031', '4', null, 'unmarked', 'fragment', 'blue', '{19,10,54,10.5,54,45,19,45}', '{36.5,27.5}', '1225', '49', '35', '30625', '245', '175', '196', '700', '0.88', '1', null, null, 'fragment', 'pretended', 'blue', '{60.25,-3.5,12.125}', 'false', null, '1', '{"real": 0.97, "ridge": 0, "colour": 3, "lightness": 9.5}', null);
insert into "particle" ("id", "finding", "photo", "number", "drawn_by", "standing", "shape_now", "colour_now", "outline_px", "centroid_px", "area_px2", "feret_max_px", "feret_min_px", "area_um2", "feret_max_um", "feret_min_um", "equivalent_diameter_um", "perimeter_um", "circularity", "solidity", "fibre_length_um", "fibre_width_um", "shape", "shape_because", "colour", "lab", "touches_frame", "square", "frame_weight", "certainty", "counts_on") overriding system value values ('00000000-0000-7000-8001-000000000037', '00000000-0000-7000-8001-000000000032', '00000000-0000-7000-8001-000000000031', '5', null, 'unmarked', 'fragment', 'blue', '{22,10,67,10.5,67,55,22,55}', '{44.5,32.5}', '2025', '62.99999999999999', '45', '50625', '314.99999999999994', '225', '251.99999999999997', '900', '0.88', '1', null, null, 'fragment', 'pretended', 'blue', '{60.25,-3.5,12.125}', 'false', '{1,2}', '1', '{"real": 0.97, "ridge": 0, "colour": 3, "lightness": 9.5}', null);
insert into "particle" ("id", "finding", "photo", "number", "drawn_by", "standing", "shape_now", "colour_now", "outline_px", "centroid_px", "area_px2", "feret_max_px", "feret_min_px", "area_um2", "feret_max_um", "feret_min_um", "equivalent_diameter_um", "perimeter_um", "circularity", "solidity", "fibre_length_um", "fibre_width_um", "shape", "shape_because", "colour", "lab", "touches_frame", "square", "frame_weight", "certainty", "counts_on") overriding system value values ('00000000-0000-7000-8001-00000000003c', '00000000-0000-7000-8001-00000000003b', '00000000-0000-7000-8001-00000000003a', '1', null, 'kept', 'fragment', 'blue', '{10,10,15,10.5,15,15,10,15}', '{12.5,12.5}', '25', '7', '5', '625', '35', '25', '28', '100', '0.88', '1', null, null, 'fragment', 'pretended', 'blue', '{60.25,-3.5,12.125}', 'false', '{1,2}', '1', '{"real": 0.97, "ridge": 0, "colour": 3, "lightness": 9.5}', null);
insert into "particle" ("id", "finding", "photo", "number", "drawn_by", "standing", "shape_now", "colour_now", "outline_px", "centroid_px", "area_px2", "feret_max_px", "feret_min_px", "area_um2", "feret_max_um", "feret_min_um", "equivalent_diameter_um", "perimeter_um", "circularity", "solidity", "fibre_length_um", "fibre_width_um", "shape", "shape_because", "colour", "lab", "touches_frame", "square", "frame_weight", "certainty", "counts_on") overriding system value values ('00000000-0000-7000-8001-00000000003d', '00000000-0000-7000-8001-00000000003b', '00000000-0000-7000-8001-00000000003a', '2', null, 'dropped', 'fragment', 'blue', '{13,10,28,10.5,28,25,13,25}', '{20.5,17.5}', '225', '21', '15', '5625', '105', '75', '84', '300', '0.88', '1', null, null, 'fragment', 'pretended', 'blue', '{60.25,-3.5,12.125}', 'false', null, '1', '{"real": 0.97, "ridge": 0, "colour": 3, "lightness": 9.5}', null);
insert into "particle" ("id", "finding", "photo", "number", "drawn_by", "standing", "shape_now", "colour_now", "outline_px", "centroid_px", "area_px2", "feret_max_px", "feret_min_px", "area_um2", "feret_max_um", "feret_min_um", "equivalent_diameter_um", "perimeter_um", "circularity", "solidity", "fibre_length_um", "fibre_width_um", "shape", "shape_because", "colour", "lab", "touches_frame", "square", "frame_weight", "certainty", "counts_on") overriding system value values ('00000000-0000-7000-8001-00000000003e', '00000000-0000-7000-8001-00000000003b', '00000000-0000-7000-8001-00000000003a', '3', null, 'unmarked', 'fragment', 'blue', '{16,10,41,10.5,41,35,16,35}', '{28.5,22.5}', '625', '35', '25', '15625', '175', '125', '140', '500', '0.88', '1', null, null, 'fragment', 'pretended', 'blue', '{60.25,-3.5,12.125}', 'false', '{1,2}', '1', '{"real": 0.97, "ridge": 0, "colour": 3, "lightness": 9.5}', null);
insert into "particle" ("id", "finding", "photo", "number", "drawn_by", "standing", "shape_now", "colour_now", "outline_px", "centroid_px", "area_px2", "feret_max_px", "feret_min_px", "area_um2", "feret_max_um", "feret_min_um", "equivalent_diameter_um", "perimeter_um", "circularity", "solidity", "fibre_length_um", "fibre_width_um", "shape", "shape_because", "colour", "lab", "touches_frame", "square", "frame_weight", "certainty", "counts_on") overriding system value values ('00000000-0000-7000-8001-00000000003f', '00000000-0000-7000-8001-00000000003b', '00000000-0000-7000-8001-00000000003a', '4', null, 'unmarked', 'fragment', 'blue', '{19,10,54,10.5,54,45,19,45}', '{36.5,27.5}', '1225', '49', '35', '30625', '245', '175', '196', '700', '0.88', '1', null, null, 'fragment', 'pretended', 'blue', '{60.25,-3.5,12.125}', 'false', null, '1', '{"real": 0.97, "ridge": 0, "colour": 3, "lightness": 9.5}', null);
insert into "particle" ("id", "finding", "photo", "number", "drawn_by", "standing", "shape_now", "colour_now", "outline_px", "centroid_px", "area_px2", "feret_max_px", "feret_min_px", "area_um2", "feret_max_um", "feret_min_um", "equivalent_diameter_um", "perimeter_um", "circularity", "solidity", "fibre_length_um", "fibre_width_um", "shape", "shape_because", "colour", "lab", "touches_frame", "square", "frame_weight", "certainty", "counts_on") overriding system value values ('00000000-0000-7000-8001-000000000040', '00000000-0000-7000-8001-00000000003b', '00000000-0000-7000-8001-00000000003a', '5', null, 'unmarked', 'fragment', 'blue', '{22,10,67,10.5,67,55,22,55}', '{44.5,32.5}', '2025', '62.99999999999999', '45', '50625', '314.99999999999994', '225', '251.99999999999997', '900', '0.88', '1', null, null, 'fragment', 'pretended', 'blue', '{60.25,-3.5,12.125}', 'false', '{1,2}', '1', '{"real": 0.97, "ridge": 0, "colour": 3, "lightness": 9.5}', null);
insert into "particle" ("id", "finding", "photo", "number", "drawn_by", "standing", "shape_now", "colour_now", "outline_px", "centroid_px", "area_px2", "feret_max_px", "feret_min_px", "area_um2", "feret_max_um", "feret_min_um", "equivalent_diameter_um", "perimeter_um", "circularity", "solidity", "fibre_length_um", "fibre_width_um", "shape", "shape_because", "colour", "lab", "touches_frame", "square", "frame_weight", "certainty", "counts_on") overriding system value values ('00000000-0000-7000-8001-000000000041', '00000000-0000-7000-8001-00000000003b', '00000000-0000-7000-8001-00000000003a', '6', null, 'unmarked', 'fragment', 'blue', '{25,10,80,10.5,80,65,25,65}', '{52.5,37.5}', '3025', '77', '55', '75625', '385', '275', '308', '1100', '0.88', '1', null, null, 'fragment', 'pretended', 'blue', '{60.25,-3.5,12.125}', 'false', null, '1', '{"real": 0.97, "ridge": 0, "colour": 3, "lightness": 9.5}', null);
insert into "particle" ("id", "finding", "photo", "number", "drawn_by", "standing", "shape_now", "colour_now", "outline_px", "centroid_px", "area_px2", "feret_max_px", "feret_min_px", "area_um2", "feret_max_um", "feret_min_um", "equivalent_diameter_um", "perimeter_um", "circularity", "solidity", "fibre_length_um", "fibre_width_um", "shape", "shape_because", "colour", "lab", "touches_frame", "square", "frame_weight", "certainty", "counts_on") overriding system value values ('00000000-0000-7000-8001-000000000046', '00000000-0000-7000-8001-000000000045', '00000000-0000-7000-8001-000000000044', '1', null, 'kept', 'fragment', 'blue', '{10,10,15,10.5,15,15,10,15}', '{12.5,12.5}', '25', '7', '5', '625', '35', '25', '28', '100', '0.88', '1', null, null, 'fragment', 'pretended', 'blue', '{60.25,-3.5,12.125}', 'false', '{1,2}', '1', '{"real": 0.97, "ridge": 0, "colour": 3, "lightness": 9.5}', null);
insert into "particle" ("id", "finding", "photo", "number", "drawn_by", "standing", "shape_now", "colour_now", "outline_px", "centroid_px", "area_px2", "feret_max_px", "feret_min_px", "area_um2", "feret_max_um", "feret_min_um", "equivalent_diameter_um", "perimeter_um", "circularity", "solidity", "fibre_length_um", "fibre_width_um", "shape", "shape_because", "colour", "lab", "touches_frame", "square", "frame_weight", "certainty", "counts_on") overriding system value values ('00000000-0000-7000-8001-000000000047', '00000000-0000-7000-8001-000000000045', '00000000-0000-7000-8001-000000000044', '2', null, 'unmarked', 'fragment', 'blue', '{13,10,28,10.5,28,25,13,25}', '{20.5,17.5}', '225', '21', '15', '5625', '105', '75', '84', '300', '0.88', '1', null, null, 'fragment', 'pretended', 'blue', '{60.25,-3.5,12.125}', 'false', null, '1', '{"real": 0.97, "ridge": 0, "colour": 3, "lightness": 9.5}', null);
insert into "particle" ("id", "finding", "photo", "number", "drawn_by", "standing", "shape_now", "colour_now", "outline_px", "centroid_px", "area_px2", "feret_max_px", "feret_min_px", "area_um2", "feret_max_um", "feret_min_um", "equivalent_diameter_um", "perimeter_um", "circularity", "solidity", "fibre_length_um", "fibre_width_um", "shape", "shape_because", "colour", "lab", "touches_frame", "square", "frame_weight", "certainty", "counts_on") overriding system value values ('00000000-0000-7000-8001-000000000048', '00000000-0000-7000-8001-000000000045', '00000000-0000-7000-8001-000000000044', '3', null, 'unmarked', 'fragment', 'blue', '{16,10,41,10.5,41,35,16,35}', '{28.5,22.5}', '625', '35', '25', '15625', '175', '125', '140', '500', '0.88', '1', null, null, 'fragment', 'pretended', 'blue', '{60.25,-3.5,12.125}', 'false', '{1,2}', '1', '{"real": 0.97, "ridge": 0, "colour": 3, "lightness": 9.5}', null);
insert into "particle" ("id", "finding", "photo", "number", "drawn_by", "standing", "shape_now", "colour_now", "outline_px", "centroid_px", "area_px2", "feret_max_px", "feret_min_px", "area_um2", "feret_max_um", "feret_min_um", "equivalent_diameter_um", "perimeter_um", "circularity", "solidity", "fibre_length_um", "fibre_width_um", "shape", "shape_because", "colour", "lab", "touches_frame", "square", "frame_weight", "certainty", "counts_on") overriding system value values ('00000000-0000-7000-8001-000000000049', '00000000-0000-7000-8001-000000000045', '00000000-0000-7000-8001-000000000044', '4', null, 'unmarked', 'fragment', 'blue', '{19,10,54,10.5,54,45,19,45}', '{36.5,27.5}', '1225', '49', '35', '30625', '245', '175', '196', '700', '0.88', '1', null, null, 'fragment', 'pretended', 'blue', '{60.25,-3.5,12.125}', 'false', null, '1', '{"real": 0.97, "ridge": 0, "colour": 3, "lightness": 9.5}', null);
insert into "particle" ("id", "finding", "photo", "number", "drawn_by", "standing", "shape_now", "colour_now", "outline_px", "centroid_px", "area_px2", "feret_max_px", "feret_min_px", "area_um2", "feret_max_um", "feret_min_um", "equivalent_diameter_um", "perimeter_um", "circularity", "solidity", "fibre_length_um", "fibre_width_um", "shape", "shape_because", "colour", "lab", "touches_frame", "square", "frame_weight", "certainty", "counts_on") overriding system value values ('00000000-0000-7000-8001-00000000004a', '00000000-0000-7000-8001-000000000045', '00000000-0000-7000-8001-000000000044', '5', null, 'unmarked', 'fragment', 'blue', '{22,10,67,10.5,67,55,22,55}', '{44.5,32.5}', '2025', '62.99999999999999', '45', '50625', '314.99999999999994', '225', '251.99999999999997', '900', '0.88', '1', null, null, 'fragment', 'pretended', 'blue', '{60.25,-3.5,12.125}', 'false', '{1,2}', '1', '{"real": 0.97, "ridge": 0, "colour": 3, "lightness": 9.5}', null);
insert into "particle" ("id", "finding", "photo", "number", "drawn_by", "standing", "shape_now", "colour_now", "outline_px", "centroid_px", "area_px2", "feret_max_px", "feret_min_px", "area_um2", "feret_max_um", "feret_min_um", "equivalent_diameter_um", "perimeter_um", "circularity", "solidity", "fibre_length_um", "fibre_width_um", "shape", "shape_because", "colour", "lab", "touches_frame", "square", "frame_weight", "certainty", "counts_on") overriding system value values ('00000000-0000-7000-8001-00000000004b', '00000000-0000-7000-8001-000000000045', '00000000-0000-7000-8001-000000000044', '6', null, 'unmarked', 'fragment', 'blue', '{25,10,80,10.5,80,65,25,65}', '{52.5,37.5}', '3025', '77', '55', '75625', '385', '275', '308', '1100', '0.88', '1', null, null, 'fragment', 'pretended', 'blue', '{60.25,-3.5,12.125}', 'false', null, '1', '{"real": 0.97, "ridge": 0, "colour": 3, "lightness": 9.5}', null);
insert into "particle" ("id", "finding", "photo", "number", "drawn_by", "standing", "shape_now", "colour_now", "outline_px", "centroid_px", "area_px2", "feret_max_px", "feret_min_px", "area_um2", "feret_max_um", "feret_min_um", "equivalent_diameter_um", "perimeter_um", "circularity", "solidity", "fibre_length_um", "fibre_width_um", "shape", "shape_because", "colour", "lab", "touches_frame", "square", "frame_weight", "certainty", "counts_on") overriding system value values ('00000000-0000-7000-8001-00000000004c', '00000000-0000-7000-8001-000000000045', '00000000-0000-7000-8001-000000000044', '7', null, 'unmarked', 'fragment', 'blue', '{28,10,93,10.5,93,75,28,75}', '{60.5,42.5}', '4225', '91', '65', '105625', '455', '325', '364', '1300', '0.88', '1', null, null, 'fragment', 'pretended', 'blue', '{60.25,-3.5,12.125}', 'false', '{1,2}', '1', '{"real": 0.97, "ridge": 0, "colour": 3, "lightness": 9.5}', null);
insert into "person" ("id", "name", "initials", "since") overriding system value values ('00000000-0000-7000-8001-000000000002', 'Ada Example', 'AE', '2026-01-05 09:00:03+00');
insert into "photo" ("id", "filter", "sha256", "name", "bytes", "format", "width_px", "height_px", "orientation", "optics", "at", "by") overriding system value values ('00000000-0000-7000-8001-00000000001c', '00000000-0000-7000-8001-00000000000a', 'b91089dda557d00db7e885b3d44f837babde24aa3591e9427c6bf576c3dc564a', 'photo 0.png', '17', 'png', '2000', '1600', '1', null, '2026-01-05 09:00:26+00', '00000000-0000-7000-8001-000000000002');
insert into "photo" ("id", "filter", "sha256", "name", "bytes", "format", "width_px", "height_px", "orientation", "optics", "at", "by") overriding system value values ('00000000-0000-7000-8001-000000000022', '00000000-0000-7000-8001-00000000000f', 'fc5e39d9a72fa56ec06c66d5716a7675a00c7983885c4c1bc20a3f7049a8c56f', 'photo 1.png', '17', 'png', '2000', '1600', '1', null, '2026-01-05 09:00:30+00', '00000000-0000-7000-8001-000000000002');
insert into "photo" ("id", "filter", "sha256", "name", "bytes", "format", "width_px", "height_px", "orientation", "optics", "at", "by") overriding system value values ('00000000-0000-7000-8001-000000000029', '00000000-0000-7000-8001-000000000012', '296264fa09a9a9376afecdfb470b0cc1402d22867d14d90f199001067e2e510e', 'photo 2.png', '17', 'png', '2000', '1600', '1', null, '2026-01-05 09:00:34+00', '00000000-0000-7000-8001-000000000002');
insert into "photo" ("id", "filter", "sha256", "name", "bytes", "format", "width_px", "height_px", "orientation", "optics", "at", "by") overriding system value values ('00000000-0000-7000-8001-000000000031', '00000000-0000-7000-8001-000000000015', '3c61eb5d85423affaaaa246d9a6c2ad3da223540a98caee555d1f86f47151b7e', 'photo 3.png', '17', 'png', '2000', '1600', '1', null, '2026-01-05 09:00:38+00', '00000000-0000-7000-8001-000000000002');
insert into "photo" ("id", "filter", "sha256", "name", "bytes", "format", "width_px", "height_px", "orientation", "optics", "at", "by") overriding system value values ('00000000-0000-7000-8001-00000000003a', '00000000-0000-7000-8001-000000000018', '7afae4731408292fec7260dac8b512cf1e77d0102932a3a421aae5ccbb5d77bd', 'photo 4.png', '17', 'png', '2000', '1600', '1', null, '2026-01-05 09:00:42+00', '00000000-0000-7000-8001-000000000002');
insert into "photo" ("id", "filter", "sha256", "name", "bytes", "format", "width_px", "height_px", "orientation", "optics", "at", "by") overriding system value values ('00000000-0000-7000-8001-000000000044', '00000000-0000-7000-8001-00000000001b', 'c73594bca1b313fdfafb0723c778768a30a54923866796bf64ef83ce70f9e244', 'photo 5.png', '17', 'png', '2000', '1600', '1', null, '2026-01-05 09:00:46+00', '00000000-0000-7000-8001-000000000002');
insert into "portion" ("id", "specimen", "name", "mass_g", "mass_is", "pieces", "note") overriding system value values ('00000000-0000-7000-8001-000000000007', '00000000-0000-7000-8001-000000000004', 'portion S1', '50', 'food-or-liquid', null, '');
insert into "portion" ("id", "specimen", "name", "mass_g", "mass_is", "pieces", "note") overriding system value values ('00000000-0000-7000-8001-00000000000b', '00000000-0000-7000-8001-000000000004', 'portion S2', '50', 'food-or-liquid', null, '');
insert into "procedure" ("id", "study", "name") overriding system value values ('00000000-0000-7000-8001-000000000005', '00000000-0000-7000-8001-000000000003', 'chop and filter');
insert into "run" ("id", "study", "edition", "kind", "name", "portion", "spike", "day", "session", "order", "by", "note", "made_at") overriding system value values ('00000000-0000-7000-8001-000000000008', '00000000-0000-7000-8001-000000000003', '00000000-0000-7000-8001-000000000006', 'specimen', 'S1', '00000000-0000-7000-8001-000000000007', null, '2026-01-05', '1', '1', '00000000-0000-7000-8001-000000000002', '', '2026-01-05 09:00:07+00');
insert into "run" ("id", "study", "edition", "kind", "name", "portion", "spike", "day", "session", "order", "by", "note", "made_at") overriding system value values ('00000000-0000-7000-8001-00000000000c', '00000000-0000-7000-8001-000000000003', '00000000-0000-7000-8001-000000000006', 'specimen', 'S2', '00000000-0000-7000-8001-00000000000b', null, '2026-01-05', '1', '2', '00000000-0000-7000-8001-000000000002', '', '2026-01-05 09:00:10+00');
insert into "run" ("id", "study", "edition", "kind", "name", "portion", "spike", "day", "session", "order", "by", "note", "made_at") overriding system value values ('00000000-0000-7000-8001-000000000010', '00000000-0000-7000-8001-000000000003', '00000000-0000-7000-8001-000000000006', 'act-control', 'C1', null, null, '2026-01-05', '1', '3', '00000000-0000-7000-8001-000000000002', '', '2026-01-05 09:00:14+00');
insert into "run" ("id", "study", "edition", "kind", "name", "portion", "spike", "day", "session", "order", "by", "note", "made_at") overriding system value values ('00000000-0000-7000-8001-000000000013', '00000000-0000-7000-8001-000000000003', '00000000-0000-7000-8001-000000000006', 'act-control', 'C2', null, null, '2026-01-05', '1', '4', '00000000-0000-7000-8001-000000000002', '', '2026-01-05 09:00:17+00');
insert into "run" ("id", "study", "edition", "kind", "name", "portion", "spike", "day", "session", "order", "by", "note", "made_at") overriding system value values ('00000000-0000-7000-8001-000000000016', '00000000-0000-7000-8001-000000000003', '00000000-0000-7000-8001-000000000006', 'procedural-blank', 'B1', null, null, '2026-01-05', '1', '5', '00000000-0000-7000-8001-000000000002', '', '2026-01-05 09:00:20+00');
insert into "run" ("id", "study", "edition", "kind", "name", "portion", "spike", "day", "session", "order", "by", "note", "made_at") overriding system value values ('00000000-0000-7000-8001-000000000019', '00000000-0000-7000-8001-000000000003', '00000000-0000-7000-8001-000000000006', 'spiked-run', 'K1', null, '{"added": 10, "colour": "blue", "sizeUm": null, "material": "known"}', '2026-01-05', '1', '6', '00000000-0000-7000-8001-000000000002', '', '2026-01-05 09:00:23+00');
insert into "schema_step" ("number", "name", "sha256", "at") overriding system value values ('1', '0001-laboratory', '751280d77ab743c9dc634e8241f9b76c6ba664f36d804a707fbb61bdd389e43a', '2026-12-01 16:25:06.474+00');
insert into "schema_step" ("number", "name", "sha256", "at") overriding system value values ('10', '0010-searching', 'c4c4fca7d5a8d562ada6efc243617c58479712c43b8a591053cf99ca64d9267d', '2026-12-01 16:25:06.699+00');
insert into "schema_step" ("number", "name", "sha256", "at") overriding system value values ('11', '0011-weighings', 'e6bd3c856f5b98f122cb57ca07426e7700393b6297fe22f22c0a676f145ec045', '2026-12-01 16:25:06.708+00');
insert into "schema_step" ("number", "name", "sha256", "at") overriding system value values ('2', '0002-plans', 'e87203cc2220f14e93a775bcc12593691ce7780808a78093cb23718822f73336', '2026-12-01 16:25:06.559+00');
insert into "schema_step" ("number", "name", "sha256", "at") overriding system value values ('3', '0003-bench', '7907815ec0c44362ce9749b7d7c395803d1c679f6aab8120b5104e42aad3ed4d', '2026-12-01 16:25:06.569+00');
insert into "schema_step" ("number", "name", "sha256", "at") overriding system value values ('4', '0004-evidence', '9ffd5e91da47b852cd2752e35b6d4d1161eba11775518a92171fddaced9d7a5b', '2026-12-01 16:25:06.593+00');
insert into "schema_step" ("number", "name", "sha256", "at") overriding system value values ('5', '0005-groups', '520a5ceebbe98888d3fe8c52c439c9aa64773f2e9fd528bb77398898efc305fc', '2026-12-01 16:25:06.652+00');
insert into "schema_step" ("number", "name", "sha256", "at") overriding system value values ('6', '0006-spectra', '3ff4503af513dee09d153df9dba977fd8c1c1fc4a9a4414504ae1249ebbcbfdf', '2026-12-01 16:25:06.671+00');
insert into "schema_step" ("number", "name", "sha256", "at") overriding system value values ('7', '0007-published-values', '750e4a772d4548e406728746471f96d87c60ad1f92d90821729e8a9a1c6d4727', '2026-12-01 16:25:06.679+00');
insert into "schema_step" ("number", "name", "sha256", "at") overriding system value values ('8', '0008-joinings', '30453f8a3e21a6f617ca96c2e06d2ea6261190993a1d546b6890b5ffee3daece', '2026-12-01 16:25:06.685+00');
insert into "schema_step" ("number", "name", "sha256", "at") overriding system value values ('9', '0009-completeness', '1bb5c52dbfe0aa8217a24a54ea06dc1127fd7a5521375529bb67dd7f0fc066b1', '2026-12-01 16:25:06.691+00');
insert into "specimen" ("id", "study", "name", "role", "maker", "lot", "age", "material", "mass_g", "note", "made_at") overriding system value values ('00000000-0000-7000-8001-000000000004', '00000000-0000-7000-8001-000000000003', 'worn board', 'product', '', '', 'five years', 'polyethylene', null, '', '2026-01-05 09:00:05+00');
insert into "study" ("id", "name", "invented", "question", "made_at", "by") overriding system value values ('00000000-0000-7000-8001-000000000003', 'Boards', 'true', '{"act": "cut carrot", "unit": "particles per gram", "liquid": "water", "shapes": [], "colours": [], "product": "worn chopping board", "countsAs": "pieces that look made, 50 µm and larger", "decision": {"matters": null, "confidence": 0.95}, "sizeToUm": null, "sizeFromUm": 50, "durationMin": 10}', '2026-01-05 09:00:04+00', '00000000-0000-7000-8001-000000000002');
select setval(pg_get_serial_sequence('bench_answer', 'turn'), coalesce(max("turn"), 0) + 1, false) from "bench_answer";
select setval(pg_get_serial_sequence('bench_tap', 'turn'), coalesce(max("turn"), 0) + 1, false) from "bench_tap";
select setval(pg_get_serial_sequence('blind_reading', 'turn'), coalesce(max("turn"), 0) + 1, false) from "blind_reading";
select setval(pg_get_serial_sequence('blind_round', 'turn'), coalesce(max("turn"), 0) + 1, false) from "blind_round";
select setval(pg_get_serial_sequence('claim_snapshot', 'turn'), coalesce(max("turn"), 0) + 1, false) from "claim_snapshot";
select setval(pg_get_serial_sequence('comparison_rules', 'turn'), coalesce(max("turn"), 0) + 1, false) from "comparison_rules";
select setval(pg_get_serial_sequence('completeness', 'turn'), coalesce(max("turn"), 0) + 1, false) from "completeness";
select setval(pg_get_serial_sequence('confirmation', 'turn'), coalesce(max("turn"), 0) + 1, false) from "confirmation";
select setval(pg_get_serial_sequence('drill_answer', 'turn'), coalesce(max("turn"), 0) + 1, false) from "drill_answer";
select setval(pg_get_serial_sequence('evidence_undo', 'turn'), coalesce(max("turn"), 0) + 1, false) from "evidence_undo";
select setval(pg_get_serial_sequence('finding', 'turn'), coalesce(max("turn"), 0) + 1, false) from "finding";
select setval(pg_get_serial_sequence('joining', 'turn'), coalesce(max("turn"), 0) + 1, false) from "joining";
select setval(pg_get_serial_sequence('journal', 'turn'), coalesce(max("turn"), 0) + 1, false) from "journal";
select setval(pg_get_serial_sequence('known_set', 'turn'), coalesce(max("turn"), 0) + 1, false) from "known_set";
select setval(pg_get_serial_sequence('mark', 'turn'), coalesce(max("turn"), 0) + 1, false) from "mark";
select setval(pg_get_serial_sequence('photo_place', 'turn'), coalesce(max("turn"), 0) + 1, false) from "photo_place";
select setval(pg_get_serial_sequence('plan', 'turn'), coalesce(max("turn"), 0) + 1, false) from "plan";
select setval(pg_get_serial_sequence('published_value', 'turn'), coalesce(max("turn"), 0) + 1, false) from "published_value";
select setval(pg_get_serial_sequence('round_event', 'turn'), coalesce(max("turn"), 0) + 1, false) from "round_event";
select setval(pg_get_serial_sequence('search_settings', 'turn'), coalesce(max("turn"), 0) + 1, false) from "search_settings";
select setval(pg_get_serial_sequence('spectrum_file', 'turn'), coalesce(max("turn"), 0) + 1, false) from "spectrum_file";
select setval(pg_get_serial_sequence('test_picture', 'turn'), coalesce(max("turn"), 0) + 1, false) from "test_picture";
select setval(pg_get_serial_sequence('weighing', 'turn'), coalesce(max("turn"), 0) + 1, false) from "weighing";
set session_replication_role = origin;
