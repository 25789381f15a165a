/** Spectra of particles and of known materials. */
export const sql = `
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
`;
