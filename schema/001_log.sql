-- SPDX-License-Identifier: MIT
-- The log file, schema 1. A landed file is never edited: later versions add 002_..., 003_...
--
-- Every table in history has: row (local, never leaves the file), id (a ULID), made (the change
-- set that made the row), struck (1: taken back; nothing is ever deleted). A field that changed
-- after its row was made has rows in `change`, each naming the one it replaced.
-- Days are ISO 8601 text; uncertain ones ISO 8601-2 with their bounds in _low and _high.
-- Masses are milligrams, lengths micrometres, volumes microlitres, temperatures tenths of a
-- degree Celsius, shares permille, analyses thousandths of a percent. A column _folded holds the
-- name case-folded: what look-ups search.

CREATE TABLE meta (
	key TEXT PRIMARY KEY NOT NULL,
	value TEXT NOT NULL
) STRICT;

-- One act of the grower: what undo takes back whole.
CREATE TABLE change_set (
	row INTEGER PRIMARY KEY,
	id TEXT NOT NULL UNIQUE CHECK (length(id) = 26),
	typed_at TEXT NOT NULL,
	what TEXT NOT NULL CHECK (length(what) <= 400),
	kind TEXT NOT NULL CHECK (kind IN ('act', 'undo', 'redo', 'import', 'merge')),
	undoes TEXT REFERENCES change_set (id), -- of undo and redo: the set it turned
	device TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE INDEX change_set_undoes ON change_set (undoes) WHERE undoes IS NOT NULL;

CREATE TABLE change (
	row INTEGER PRIMARY KEY,
	id TEXT NOT NULL UNIQUE CHECK (length(id) = 26),
	set_id TEXT NOT NULL REFERENCES change_set (id),
	table_name TEXT NOT NULL,
	row_id TEXT NOT NULL,
	field TEXT NOT NULL,
	old TEXT, -- as text; NULL is NULL
	new TEXT,
	prev TEXT REFERENCES change (id) -- NULL: it replaced the value the row was made with
) STRICT;
CREATE INDEX change_set_id ON change (set_id);
CREATE INDEX change_row_id ON change (row_id, field);

-- Two copies changed the same field: both values wait here for the grower.
CREATE TABLE clash (
	row INTEGER PRIMARY KEY,
	id TEXT NOT NULL UNIQUE CHECK (length(id) = 26),
	made TEXT NOT NULL REFERENCES change_set (id),
	struck INTEGER NOT NULL DEFAULT 0 CHECK (struck IN (0, 1)),
	table_name TEXT NOT NULL,
	row_id TEXT NOT NULL,
	field TEXT NOT NULL,
	one TEXT REFERENCES change (id),
	other TEXT REFERENCES change (id),
	settled TEXT -- the value picked; NULL: open
) STRICT;

CREATE TABLE place (
	row INTEGER PRIMARY KEY CHECK (row = 1),
	id TEXT NOT NULL UNIQUE CHECK (length(id) = 26),
	made TEXT NOT NULL REFERENCES change_set (id),
	struck INTEGER NOT NULL DEFAULT 0 CHECK (struck = 0),
	name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 160),
	latitude_udeg INTEGER CHECK (latitude_udeg BETWEEN -90000000 AND 90000000),
	longitude_udeg INTEGER CHECK (longitude_udeg BETWEEN -180000000 AND 180000000),
	hemisphere TEXT CHECK (hemisphere IN ('north', 'south')), -- as told; the latitude's sign wins
	wet TEXT CHECK (wet IN ('winter', 'summer', 'all', 'little')),
	winter TEXT CHECK (winter IN ('hard', 'frosty', 'mild')),
	last_frost TEXT CHECK (last_frost GLOB '[0-1][0-9]-[0-3][0-9]'),
	first_frost TEXT CHECK (first_frost GLOB '[0-1][0-9]-[0-3][0-9]'),
	units TEXT CHECK (units IN ('us', 'si')),
	gallon TEXT CHECK (gallon IN ('us', 'imperial')),
	numbers TEXT CHECK (numbers IN ('point', 'comma')),
	dates TEXT CHECK (dates IN ('dmy', 'mdy'))
) STRICT;

CREATE TABLE area (
	row INTEGER PRIMARY KEY,
	id TEXT NOT NULL UNIQUE CHECK (length(id) = 26),
	made TEXT NOT NULL REFERENCES change_set (id),
	struck INTEGER NOT NULL DEFAULT 0 CHECK (struck IN (0, 1)),
	name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 40),
	name_folded TEXT NOT NULL
) STRICT;
CREATE INDEX area_made ON area (made);
CREATE INDEX area_name ON area (name_folded);

CREATE TABLE spot (
	row INTEGER PRIMARY KEY,
	id TEXT NOT NULL UNIQUE CHECK (length(id) = 26),
	made TEXT NOT NULL REFERENCES change_set (id),
	struck INTEGER NOT NULL DEFAULT 0 CHECK (struck IN (0, 1)),
	name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 40),
	name_folded TEXT NOT NULL,
	kind TEXT NOT NULL DEFAULT 'hole' CHECK (kind IN ('hole', 'container', 'off-place')),
	area_id TEXT REFERENCES area (id),
	east_um INTEGER,
	north_um INTEGER,
	volume_ul INTEGER CHECK (volume_ul >= 0),
	offset_decic INTEGER NOT NULL DEFAULT 0 CHECK (offset_decic BETWEEN -300 AND 300),
	soil TEXT,
	root_depth_um INTEGER CHECK (root_depth_um >= 0),
	cover TEXT CHECK (cover IN ('bare', 'grass', 'mulch')),
	watering TEXT NOT NULL DEFAULT '',
	emitters INTEGER CHECK (emitters >= 0),
	flow_ulh INTEGER CHECK (flow_ulh >= 0),
	efficiency_permille INTEGER CHECK (efficiency_permille BETWEEN 1 AND 1000)
) STRICT;
CREATE INDEX spot_made ON spot (made);
CREATE INDEX spot_name ON spot (name_folded);

CREATE TABLE obstacle (
	row INTEGER PRIMARY KEY,
	id TEXT NOT NULL UNIQUE CHECK (length(id) = 26),
	made TEXT NOT NULL REFERENCES change_set (id),
	struck INTEGER NOT NULL DEFAULT 0 CHECK (struck IN (0, 1)),
	name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 40),
	kind TEXT NOT NULL CHECK (kind IN ('wall', 'house', 'gate', 'line')),
	points TEXT NOT NULL, -- "east,north east,north ..." in micrometres
	height_um INTEGER CHECK (height_um >= 0)
) STRICT;
CREATE INDEX obstacle_made ON obstacle (made);

CREATE TABLE route (
	row INTEGER PRIMARY KEY,
	id TEXT NOT NULL UNIQUE CHECK (length(id) = 26),
	made TEXT NOT NULL REFERENCES change_set (id),
	struck INTEGER NOT NULL DEFAULT 0 CHECK (struck IN (0, 1)),
	spot_id TEXT NOT NULL REFERENCES spot (id),
	position INTEGER NOT NULL
) STRICT;
CREATE INDEX route_made ON route (made);
CREATE INDEX route_position ON route (position);

CREATE TABLE tree (
	row INTEGER PRIMARY KEY,
	id TEXT NOT NULL UNIQUE CHECK (length(id) = 26),
	made TEXT NOT NULL REFERENCES change_set (id),
	struck INTEGER NOT NULL DEFAULT 0 CHECK (struck IN (0, 1)),
	label TEXT NOT NULL CHECK (length(label) BETWEEN 1 AND 40),
	host_id TEXT REFERENCES tree (id) CHECK (host_id <> id),
	parent_id TEXT REFERENCES tree (id) CHECK (parent_id <> id),
	how TEXT NOT NULL DEFAULT '' CHECK (how IN
		('', 'bought', 'seed', 'cutting', 'layer', 'graft', 'root-shoot', 'found')),
	batch TEXT NOT NULL DEFAULT '',
	rootstock TEXT NOT NULL DEFAULT '',
	planted TEXT NOT NULL DEFAULT '',
	planted_low TEXT,
	planted_high TEXT,
	gone TEXT NOT NULL DEFAULT '',
	gone_low TEXT,
	gone_high TEXT,
	gone_reason TEXT NOT NULL DEFAULT '' CHECK (length(gone_reason) <= 400),
	is_gone INTEGER NOT NULL DEFAULT 0 CHECK (is_gone IN (0, 1)),
	target_height_um INTEGER CHECK (target_height_um > 0),
	hazard TEXT NOT NULL DEFAULT '' CHECK (length(hazard) <= 400),
	over_fence INTEGER NOT NULL DEFAULT 0 CHECK (over_fence IN (0, 1)),
	is_private INTEGER NOT NULL DEFAULT 0 CHECK (is_private IN (0, 1)),
	note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 400),
	-- the label case-folded with numbers padded: what lists sort by, what look-ups search
	label_folded TEXT NOT NULL,
	label_sort TEXT NOT NULL
) STRICT;
CREATE INDEX tree_made ON tree (made);
CREATE INDEX tree_label ON tree (label_folded);
CREATE INDEX tree_sort ON tree (is_gone, label_sort);
CREATE INDEX tree_host ON tree (host_id) WHERE host_id IS NOT NULL;
CREATE INDEX tree_parent ON tree (parent_id) WHERE parent_id IS NOT NULL;

-- Labels a tree had before: kept findable.
CREATE TABLE old_label (
	row INTEGER PRIMARY KEY,
	id TEXT NOT NULL UNIQUE CHECK (length(id) = 26),
	made TEXT NOT NULL REFERENCES change_set (id),
	struck INTEGER NOT NULL DEFAULT 0 CHECK (struck IN (0, 1)),
	tree_id TEXT NOT NULL REFERENCES tree (id),
	label TEXT NOT NULL,
	label_folded TEXT NOT NULL
) STRICT;
CREATE INDEX old_label_made ON old_label (made);
CREATE INDEX old_label_folded ON old_label (label_folded);

CREATE TABLE tree_spot (
	row INTEGER PRIMARY KEY,
	id TEXT NOT NULL UNIQUE CHECK (length(id) = 26),
	made TEXT NOT NULL REFERENCES change_set (id),
	struck INTEGER NOT NULL DEFAULT 0 CHECK (struck IN (0, 1)),
	tree_id TEXT NOT NULL REFERENCES tree (id),
	spot_id TEXT NOT NULL REFERENCES spot (id),
	from_day TEXT, -- NULL: not known
	to_day TEXT    -- NULL: still there
) STRICT;
CREATE INDEX tree_spot_made ON tree_spot (made);
CREATE INDEX tree_spot_tree ON tree_spot (tree_id);
CREATE INDEX tree_spot_spot ON tree_spot (spot_id);

CREATE TABLE identity (
	row INTEGER PRIMARY KEY,
	id TEXT NOT NULL UNIQUE CHECK (length(id) = 26),
	made TEXT NOT NULL REFERENCES change_set (id),
	struck INTEGER NOT NULL DEFAULT 0 CHECK (struck IN (0, 1)),
	tree_id TEXT NOT NULL REFERENCES tree (id),
	opinion TEXT NOT NULL CHECK (length(opinion) = 26), -- shared by candidates of one opinion
	what TEXT NOT NULL CHECK (what IN ('species', 'cultivar')),
	name TEXT NOT NULL CHECK (length(name) <= 160),
	sure TEXT NOT NULL CHECK (sure IN ('certain', 'suspected', 'candidate', 'unknown')),
	who TEXT NOT NULL DEFAULT '',
	day TEXT NOT NULL DEFAULT '',
	day_low TEXT,
	day_high TEXT,
	reason TEXT NOT NULL DEFAULT '' CHECK (length(reason) <= 400),
	sense TEXT NOT NULL DEFAULT 'correction' CHECK (sense IN ('correction', 'change'))
) STRICT;
CREATE INDEX identity_made ON identity (made);
CREATE INDEX identity_tree ON identity (tree_id, what);

CREATE TABLE trait (
	row INTEGER PRIMARY KEY,
	id TEXT NOT NULL UNIQUE CHECK (length(id) = 26),
	made TEXT NOT NULL REFERENCES change_set (id),
	struck INTEGER NOT NULL DEFAULT 0 CHECK (struck IN (0, 1)),
	tree_id TEXT NOT NULL REFERENCES tree (id),
	trait TEXT NOT NULL,
	value TEXT NOT NULL,
	day TEXT NOT NULL DEFAULT '',
	who TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE INDEX trait_made ON trait (made);
CREATE INDEX trait_tree ON trait (tree_id);

-- Trunks of a tree. A tree with no row has one.
CREATE TABLE stem (
	row INTEGER PRIMARY KEY,
	id TEXT NOT NULL UNIQUE CHECK (length(id) = 26),
	made TEXT NOT NULL REFERENCES change_set (id),
	struck INTEGER NOT NULL DEFAULT 0 CHECK (struck IN (0, 1)),
	tree_id TEXT NOT NULL REFERENCES tree (id),
	number INTEGER NOT NULL CHECK (number BETWEEN 1 AND 99),
	note TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE INDEX stem_made ON stem (made);
CREATE INDEX stem_tree ON stem (tree_id);

CREATE TABLE entry (
	row INTEGER PRIMARY KEY,
	id TEXT NOT NULL UNIQUE CHECK (length(id) = 26),
	made TEXT NOT NULL REFERENCES change_set (id),
	struck INTEGER NOT NULL DEFAULT 0 CHECK (struck IN (0, 1)),
	subject_kind TEXT NOT NULL CHECK (subject_kind IN ('place', 'area', 'spot', 'tree')),
	subject_id TEXT NOT NULL DEFAULT '', -- '' for the place
	kind TEXT NOT NULL,
	day TEXT NOT NULL,
	day_low TEXT,
	day_high TEXT,
	typed_at TEXT NOT NULL,
	words TEXT NOT NULL CHECK (length(words) <= 4400),
	note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 4000),
	batch TEXT NOT NULL DEFAULT '',
	planned INTEGER NOT NULL DEFAULT 0 CHECK (planned IN (0, 1)),
	season_year INTEGER CHECK (season_year BETWEEN 1 AND 9999)
) STRICT;
CREATE INDEX entry_made ON entry (made);
CREATE INDEX entry_subject ON entry (subject_id, day_low, kind);
CREATE INDEX entry_day ON entry (day_low);
CREATE INDEX entry_batch ON entry (batch) WHERE batch <> '';
CREATE INDEX entry_kind ON entry (kind, subject_id, day_low);

CREATE TABLE amount (
	row INTEGER PRIMARY KEY,
	id TEXT NOT NULL UNIQUE CHECK (length(id) = 26),
	made TEXT NOT NULL REFERENCES change_set (id),
	struck INTEGER NOT NULL DEFAULT 0 CHECK (struck IN (0, 1)),
	entry_id TEXT NOT NULL REFERENCES entry (id),
	field TEXT NOT NULL,
	base_unit TEXT NOT NULL, -- mg um ul permille s day decic ulh mms mm2 mpct code thousandth
	low INTEGER,
	high INTEGER,            -- NULL with low known: no top
	typed TEXT NOT NULL DEFAULT '' CHECK (length(typed) <= 80),
	about INTEGER NOT NULL DEFAULT 0 CHECK (about IN (0, 1)),
	none INTEGER NOT NULL DEFAULT 0 CHECK (none IN (0, 1)),
	container TEXT NOT NULL DEFAULT '',
	containers_low INTEGER,  -- thousandths of a container
	containers_high INTEGER
) STRICT;
CREATE INDEX amount_made ON amount (made);
CREATE INDEX amount_entry ON amount (entry_id, field);

-- The words of an entry that have a meaning of their own: kind of cut, product, pest ...
CREATE TABLE detail (
	row INTEGER PRIMARY KEY,
	id TEXT NOT NULL UNIQUE CHECK (length(id) = 26),
	made TEXT NOT NULL REFERENCES change_set (id),
	struck INTEGER NOT NULL DEFAULT 0 CHECK (struck IN (0, 1)),
	entry_id TEXT NOT NULL REFERENCES entry (id),
	field TEXT NOT NULL,
	value TEXT NOT NULL CHECK (length(value) <= 400)
) STRICT;
CREATE INDEX detail_made ON detail (made);
CREATE INDEX detail_entry ON detail (entry_id, field);

CREATE TABLE measure (
	row INTEGER PRIMARY KEY,
	id TEXT NOT NULL UNIQUE CHECK (length(id) = 26),
	made TEXT NOT NULL REFERENCES change_set (id),
	struck INTEGER NOT NULL DEFAULT 0 CHECK (struck IN (0, 1)),
	entry_id TEXT NOT NULL REFERENCES entry (id),
	stem INTEGER NOT NULL CHECK (stem BETWEEN 0 AND 99), -- 0: the tree as a whole
	what TEXT NOT NULL CHECK (what IN ('girth', 'diameter', 'height', 'spread', 'shoot')),
	low_um INTEGER NOT NULL CHECK (low_um >= 0),
	high_um INTEGER NOT NULL CHECK (high_um >= low_um),
	about INTEGER NOT NULL DEFAULT 0 CHECK (about IN (0, 1)),
	at_height_um INTEGER,
	word_given INTEGER NOT NULL DEFAULT 1 CHECK (word_given IN (0, 1))
) STRICT;
CREATE INDEX measure_made ON measure (made);
CREATE INDEX measure_entry ON measure (entry_id);

-- Work meant to come again: settings of a planned entry.
CREATE TABLE plan (
	row INTEGER PRIMARY KEY,
	id TEXT NOT NULL UNIQUE CHECK (length(id) = 26),
	made TEXT NOT NULL REFERENCES change_set (id),
	struck INTEGER NOT NULL DEFAULT 0 CHECK (struck IN (0, 1)),
	entry_id TEXT NOT NULL REFERENCES entry (id),
	every_days INTEGER CHECK (every_days BETWEEN 1 AND 3660),
	until TEXT
) STRICT;
CREATE INDEX plan_made ON plan (made);
CREATE INDEX plan_entry ON plan (entry_id);

CREATE TABLE product (
	row INTEGER PRIMARY KEY,
	id TEXT NOT NULL UNIQUE CHECK (length(id) = 26),
	made TEXT NOT NULL REFERENCES change_set (id),
	struck INTEGER NOT NULL DEFAULT 0 CHECK (struck IN (0, 1)),
	name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 160),
	name_folded TEXT NOT NULL,
	n_mpct INTEGER CHECK (n_mpct BETWEEN 0 AND 100000),
	p2o5_mpct INTEGER CHECK (p2o5_mpct BETWEEN 0 AND 100000),
	k2o_mpct INTEGER CHECK (k2o_mpct BETWEEN 0 AND 100000),
	elements TEXT NOT NULL DEFAULT '',
	bag_mg INTEGER CHECK (bag_mg > 0),
	cup_mg INTEGER CHECK (cup_mg > 0)
) STRICT;
CREATE INDEX product_made ON product (made);
CREATE INDEX product_name ON product (name_folded);

CREATE TABLE container (
	row INTEGER PRIMARY KEY,
	id TEXT NOT NULL UNIQUE CHECK (length(id) = 26),
	made TEXT NOT NULL REFERENCES change_set (id),
	struck INTEGER NOT NULL DEFAULT 0 CHECK (struck IN (0, 1)),
	name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 160),
	name_folded TEXT NOT NULL,
	volume_ul INTEGER CHECK (volume_ul > 0)
) STRICT;
CREATE INDEX container_made ON container (made);
CREATE INDEX container_name ON container (name_folded);

CREATE TABLE container_weight (
	row INTEGER PRIMARY KEY,
	id TEXT NOT NULL UNIQUE CHECK (length(id) = 26),
	made TEXT NOT NULL REFERENCES change_set (id),
	struck INTEGER NOT NULL DEFAULT 0 CHECK (struck IN (0, 1)),
	container_id TEXT NOT NULL REFERENCES container (id),
	species TEXT NOT NULL DEFAULT '', -- '' any kind
	weight_mg INTEGER NOT NULL CHECK (weight_mg > 0),
	from_day TEXT -- NULL: always
) STRICT;
CREATE INDEX container_weight_made ON container_weight (made);
CREATE INDEX container_weight_container ON container_weight (container_id);

CREATE TABLE weather_day (
	row INTEGER PRIMARY KEY,
	id TEXT NOT NULL UNIQUE CHECK (length(id) = 26),
	made TEXT NOT NULL REFERENCES change_set (id),
	struck INTEGER NOT NULL DEFAULT 0 CHECK (struck IN (0, 1)),
	day TEXT NOT NULL,
	station TEXT NOT NULL DEFAULT '',
	kind TEXT NOT NULL DEFAULT 'observed' CHECK (kind IN ('observed', 'forecast')),
	min_decic INTEGER CHECK (min_decic BETWEEN -1000 AND 700),
	max_decic INTEGER CHECK (max_decic BETWEEN -1000 AND 700),
	rain_um INTEGER CHECK (rain_um >= 0),
	wind_mms INTEGER CHECK (wind_mms >= 0)
) STRICT;
CREATE INDEX weather_day_made ON weather_day (made);
CREATE INDEX weather_day_day ON weather_day (day, kind, station);

CREATE TABLE weather_hour (
	row INTEGER PRIMARY KEY,
	id TEXT NOT NULL UNIQUE CHECK (length(id) = 26),
	made TEXT NOT NULL REFERENCES change_set (id),
	struck INTEGER NOT NULL DEFAULT 0 CHECK (struck IN (0, 1)),
	day TEXT NOT NULL,
	hour INTEGER NOT NULL CHECK (hour BETWEEN 0 AND 23),
	station TEXT NOT NULL DEFAULT '',
	kind TEXT NOT NULL DEFAULT 'observed' CHECK (kind IN ('observed', 'forecast')),
	temperature_decic INTEGER CHECK (temperature_decic BETWEEN -1000 AND 700),
	rain_um INTEGER CHECK (rain_um >= 0),
	wind_mms INTEGER CHECK (wind_mms >= 0)
) STRICT;
CREATE INDEX weather_hour_made ON weather_hour (made);
CREATE INDEX weather_hour_day ON weather_hour (day, hour, kind, station);

-- How a file of some kind was read last time.
CREATE TABLE layout (
	row INTEGER PRIMARY KEY,
	id TEXT NOT NULL UNIQUE CHECK (length(id) = 26),
	made TEXT NOT NULL REFERENCES change_set (id),
	struck INTEGER NOT NULL DEFAULT 0 CHECK (struck IN (0, 1)),
	name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 160),
	what TEXT NOT NULL, -- trees picks weather ...
	columns TEXT NOT NULL,
	units TEXT NOT NULL DEFAULT '',
	dates TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE INDEX layout_made ON layout (made);

-- What the grower answered to a flag.
CREATE TABLE answer (
	row INTEGER PRIMARY KEY,
	id TEXT NOT NULL UNIQUE CHECK (length(id) = 26),
	made TEXT NOT NULL REFERENCES change_set (id),
	struck INTEGER NOT NULL DEFAULT 0 CHECK (struck IN (0, 1)),
	flag_key TEXT NOT NULL CHECK (length(flag_key) BETWEEN 1 AND 159),
	kind TEXT NOT NULL CHECK (kind IN ('put-off', 'set-aside', 'always')),
	until TEXT,
	reason TEXT NOT NULL DEFAULT '' CHECK (length(reason) <= 400)
) STRICT;
CREATE INDEX answer_made ON answer (made);
CREATE INDEX answer_key ON answer (flag_key);

CREATE TABLE own_window (
	row INTEGER PRIMARY KEY,
	id TEXT NOT NULL UNIQUE CHECK (length(id) = 26),
	made TEXT NOT NULL REFERENCES change_set (id),
	struck INTEGER NOT NULL DEFAULT 0 CHECK (struck IN (0, 1)),
	tree_id TEXT REFERENCES tree (id), -- NULL: the species here
	species TEXT NOT NULL DEFAULT '',
	window TEXT NOT NULL,
	from_md TEXT NOT NULL CHECK (from_md GLOB '[0-1][0-9]-[0-3][0-9]'),
	to_md TEXT NOT NULL CHECK (to_md GLOB '[0-1][0-9]-[0-3][0-9]')
) STRICT;
CREATE INDEX own_window_made ON own_window (made);

CREATE TABLE own_rate (
	row INTEGER PRIMARY KEY,
	id TEXT NOT NULL UNIQUE CHECK (length(id) = 26),
	made TEXT NOT NULL REFERENCES change_set (id),
	struck INTEGER NOT NULL DEFAULT 0 CHECK (struck IN (0, 1)),
	tree_id TEXT REFERENCES tree (id),
	species TEXT NOT NULL DEFAULT '',
	nitrogen_mg INTEGER NOT NULL CHECK (nitrogen_mg >= 0),
	per TEXT NOT NULL CHECK (per IN ('inch', 'year-of-age', 'feed', 'year'))
) STRICT;
CREATE INDEX own_rate_made ON own_rate (made);

-- Which of two published rules this place follows.
CREATE TABLE choice (
	row INTEGER PRIMARY KEY,
	id TEXT NOT NULL UNIQUE CHECK (length(id) = 26),
	made TEXT NOT NULL REFERENCES change_set (id),
	struck INTEGER NOT NULL DEFAULT 0 CHECK (struck IN (0, 1)),
	rule TEXT NOT NULL,
	source TEXT NOT NULL
) STRICT;
CREATE INDEX choice_made ON choice (made);

-- Season years lost to something the grower named: left out of the second alternation figure.
CREATE TABLE lost_season (
	row INTEGER PRIMARY KEY,
	id TEXT NOT NULL UNIQUE CHECK (length(id) = 26),
	made TEXT NOT NULL REFERENCES change_set (id),
	struck INTEGER NOT NULL DEFAULT 0 CHECK (struck IN (0, 1)),
	tree_id TEXT NOT NULL REFERENCES tree (id),
	season_year INTEGER NOT NULL,
	cause TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE INDEX lost_season_made ON lost_season (made);
CREATE INDEX lost_season_tree ON lost_season (tree_id);

-- ---- below: outside history, merge and export ----

-- What names seasons for SQL, which cannot read the almanac. From valid_from (NULL: always) up to
-- and not including valid_to (NULL: open) the turn is turn_md; the season year is the calendar
-- year of the last turn on or before the day, plus years_add.
CREATE TABLE season_turn (
	row INTEGER PRIMARY KEY,
	subject_kind TEXT NOT NULL CHECK (subject_kind IN ('tree', 'spot')),
	subject_id TEXT NOT NULL,
	valid_from TEXT,
	valid_to TEXT,
	turn_md TEXT NOT NULL,
	years_add INTEGER NOT NULL CHECK (years_add IN (0, 1)),
	crosses INTEGER NOT NULL CHECK (crosses IN (0, 1))
) STRICT;
CREATE INDEX season_turn_subject ON season_turn (subject_id, subject_kind);

-- Unsaved text of a screen, offered at the next start.
CREATE TABLE draft (
	screen TEXT PRIMARY KEY NOT NULL,
	body TEXT NOT NULL,
	saved_at TEXT NOT NULL
) STRICT;

CREATE TABLE walk (
	key TEXT PRIMARY KEY NOT NULL, -- 'position', 'review-held'
	value TEXT NOT NULL
) STRICT;

-- A cache: deleting it changes nothing.
CREATE TABLE kept_flag (
	tree_id TEXT PRIMARY KEY NOT NULL,
	worked_for TEXT NOT NULL,
	next_change TEXT,
	digest TEXT NOT NULL,
	flags TEXT NOT NULL
) STRICT;

-- Words of entries, notes and names, for the search. Written by the program in the transaction
-- of the change, never by a trigger. An FTS5 table cannot be STRICT.
CREATE VIRTUAL TABLE word_index USING fts5 (
	body, table_name UNINDEXED, row_id UNINDEXED,
	tokenize = 'unicode61 remove_diacritics 2'
);

-- ---- views for outside readers: stable names, no JSON function, no virtual table ----

-- One row a tree that stands or stood, with what it is now.
CREATE VIEW tree_now AS
SELECT t.id AS tree_id, t.label, t.is_gone, t.planted, t.gone, t.gone_reason, t.rootstock,
	h.label AS host, s.name AS spot, a.name AS area,
	(SELECT i.name FROM identity i WHERE i.tree_id = t.id AND i.what = 'species' AND i.struck = 0
		ORDER BY i.id DESC LIMIT 1) AS species,
	(SELECT i.sure FROM identity i WHERE i.tree_id = t.id AND i.what = 'species' AND i.struck = 0
		ORDER BY i.id DESC LIMIT 1) AS species_sure,
	(SELECT i.name FROM identity i WHERE i.tree_id = t.id AND i.what = 'cultivar' AND i.struck = 0
		ORDER BY i.id DESC LIMIT 1) AS cultivar,
	(SELECT i.sure FROM identity i WHERE i.tree_id = t.id AND i.what = 'cultivar' AND i.struck = 0
		ORDER BY i.id DESC LIMIT 1) AS cultivar_sure
FROM tree t
LEFT JOIN tree h ON h.id = t.host_id
LEFT JOIN tree_spot ts ON ts.struck = 0 AND ts.to_day IS NULL
	AND ts.tree_id = coalesce(t.host_id, t.id)
LEFT JOIN spot s ON s.id = ts.spot_id
LEFT JOIN area a ON a.id = s.area_id
WHERE t.struck = 0;

-- One row an entry that stands, with the name of what it is about.
CREATE VIEW entry_plain AS
SELECT e.id AS entry_id, e.day, e.day_low, e.day_high, e.kind, e.planned, e.subject_kind,
	coalesce(t.label, s.name, a.name, '') AS subject, e.words, e.note, e.typed_at, e.season_year
FROM entry e
LEFT JOIN tree t ON e.subject_kind = 'tree' AND t.id = e.subject_id
LEFT JOIN spot s ON e.subject_kind = 'spot' AND s.id = e.subject_id
LEFT JOIN area a ON e.subject_kind = 'area' AND a.id = e.subject_id
WHERE e.struck = 0;

-- One row a pick or loss with the season year it counts for.
CREATE VIEW pick_season AS
SELECT e.id AS entry_id, e.kind, e.subject_kind, e.subject_id, e.day_low,
	coalesce(e.season_year, CASE WHEN e.day_low IS NULL THEN NULL ELSE
		CAST(substr(e.day_low, 1, 4) AS INTEGER)
		- CASE WHEN substr(e.day_low, 6, 5) < coalesce(st.turn_md, '01-01') THEN 1 ELSE 0 END
		+ coalesce(st.years_add, 0) END) AS season_year,
	coalesce(st.crosses, 0) AS crosses
FROM entry e
LEFT JOIN season_turn st ON st.subject_id = e.subject_id AND st.subject_kind = e.subject_kind
	AND (st.valid_from IS NULL OR e.day_low >= st.valid_from)
	AND (st.valid_to IS NULL OR e.day_low < st.valid_to)
WHERE e.struck = 0 AND e.planned = 0 AND e.kind IN ('pick', 'loss');

-- Weighed crop of a tree (or of a spot picked as one) a season; weights in milligrams, the point
-- of a closed range its middle, of an open one its low end.
CREATE VIEW yield_by_season AS
SELECT ps.subject_kind, ps.subject_id, coalesce(t.label, s.name) AS subject, ps.season_year,
	CASE WHEN ps.crosses = 1 THEN printf('%d/%02d', ps.season_year, (ps.season_year + 1) % 100)
		ELSE printf('%d', ps.season_year) END AS season,
	sum(CASE WHEN ps.kind = 'pick' THEN (m.low + coalesce(m.high, m.low)) / 2 END) AS picked_mg,
	sum(CASE WHEN ps.kind = 'pick' THEN m.low END) AS picked_low_mg,
	CASE WHEN sum(CASE WHEN ps.kind = 'pick' AND m.low IS NOT NULL AND m.high IS NULL THEN 1 END) > 0
		THEN NULL ELSE sum(CASE WHEN ps.kind = 'pick' THEN m.high END) END AS picked_high_mg,
	sum(CASE WHEN ps.kind = 'loss' THEN (m.low + coalesce(m.high, m.low)) / 2 END) AS lost_mg,
	count(CASE WHEN ps.kind = 'pick' THEN 1 END) AS picks,
	count(CASE WHEN ps.kind = 'pick' AND m.low IS NULL THEN 1 END) AS unweighed,
	min(CASE WHEN ps.kind = 'pick' THEN ps.day_low END) AS first_pick,
	max(CASE WHEN ps.kind = 'pick' THEN ps.day_low END) AS last_pick
FROM pick_season ps
LEFT JOIN tree t ON ps.subject_kind = 'tree' AND t.id = ps.subject_id
LEFT JOIN spot s ON ps.subject_kind = 'spot' AND s.id = ps.subject_id
LEFT JOIN amount m ON m.entry_id = ps.entry_id AND m.struck = 0 AND m.field = 'weight'
GROUP BY ps.subject_kind, ps.subject_id, ps.season_year;
