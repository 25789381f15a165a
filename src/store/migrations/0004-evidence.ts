export const sql = `
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
`;
