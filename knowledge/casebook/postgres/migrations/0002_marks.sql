-- When a write left its mark, so that those whose fate nobody can ask for any
-- more can go.
ALTER TABLE marks ADD COLUMN at timestamptz NOT NULL DEFAULT now();
