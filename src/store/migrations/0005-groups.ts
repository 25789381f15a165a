/** Groups: who may do what, who is signed in, and where the search of each photo stands. */
export const sql = `
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
`;
