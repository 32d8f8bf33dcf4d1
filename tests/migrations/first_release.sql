-- A book as the first release kept it, written by that release's own verbs: an invented studio, Alderbeck,
-- with orders in every state, rings of every section, fingers measured in every system.

INSERT INTO studio (id, name, subtitle, address, phone, email, hallmark_rule, currency, time_zone, version) VALUES
    (1, 'Alderbeck', 'rings and repairs by hand', '3 Ferry Lane, Hythe', '01632 960 640', 'book@alderbeck.example', 'uk', 'GBP', 'Europe/London', 2);

INSERT INTO users (id, name, name_folded, role, passphrase_hash, created_at, ended_at) VALUES
    (1, 'Signe Alder', 'signe alder', 'owner', '$argon2id$v=19$m=19456,t=2,p=1$fXi9Ejbgczqk+Zkhgy2E3g$TMZkWj+s5TgglD6NxcCQkmFPbtkZ79Dsx3Op8bYYcRw', '2026-10-05 09:14:00.000000', NULL),
    (2, 'Pavel', 'pavel', 'counter', '$argon2id$v=19$m=19456,t=2,p=1$NktOO5a9H72Js7aJ+32BIg$a3Voem48QbBvQ/BzT6xjPA6vyrlGma+zhaycWkqYjxI', '2026-10-05 09:21:00.000000', NULL),
    (3, 'Úna', 'una', 'maker', NULL, '2026-10-05 09:28:00.000000', NULL),
    (4, 'Corin', 'corin (left 4)', 'counter', NULL, '2026-10-05 09:35:00.000000', '2026-11-12 20:19:00.000000');

INSERT INTO one_time_links (id, user_id, key_hash, created_at, expires_at, used_at) VALUES
    (1, 1, 'c5c85eca63babb1004aab1787e7d34e8593275932f154c12b96c689a703beddd', '2026-10-05 09:42:00.000000', '2026-10-06 09:42:00.000000', '2026-10-05 09:49:00.000000'),
    (2, 2, '7aa0d70421b86c15efd4054c78dae99eeb6ddd4ef8c7e69c19b5deb9843b86a0', '2026-10-05 09:56:00.000000', '2026-10-06 09:56:00.000000', '2026-10-05 10:03:00.000000'),
    (3, 4, '3149dbbced6b11e503a7cdd8e5a66138826c6cc365f18024d63d4d43e2f26760', '2026-10-05 10:10:00.000000', '2026-10-06 10:10:00.000000', '2026-10-05 10:17:00.000000'),
    (4, 3, '3a73170a8860b0011b09ea992cebf033266827a9afd63b76a6a50390a5083174', '2026-11-12 20:26:00.000000', '2026-11-13 20:26:00.000000', NULL);

INSERT INTO sign_ins (id, user_id, key_hash, created_at, seen_at) VALUES
    (1, 1, 'de68d965bb96e636515a82e15c06d9eac704c7fd2838db2b1d7a412b34c01147', '2026-11-12 20:33:00.000000', '2026-11-12 20:33:00.000000');

INSERT INTO sign_in_tries (subject, wrong, last_at) VALUES
    ('address 192.0.2.99', 1, '2026-11-12 20:40:00.000000'),
    ('name signe alder', 1, '2026-11-12 20:40:00.000000'),
    ('pair signe alder 192.0.2.99', 1, '2026-11-12 20:40:00.000000');

INSERT INTO known_addresses (name_folded, address, seen_at) VALUES
    ('pavel', '192.0.2.17', '2026-10-06 10:59:00.000000'),
    ('signe alder', '192.0.2.8', '2026-11-12 20:33:00.000000');

INSERT INTO api_tokens (id, name, role, token_hash, created_at, ended_at) VALUES
    (1, 'the till''s owner', 'owner', '19197d17d60e731bee8f0949f68aad5276e5052db9aa750d1a0c71583793ad53', '2026-10-05 10:24:00.000000', NULL),
    (2, 'the till''s counter', 'counter', '2baf40408d537a1bdc2f15a1b9fa30d407a1fae607503804465150569dc08d0d', '2026-10-05 10:31:00.000000', NULL),
    (3, 'the till''s maker', 'maker', 'c9d459304ef4f8fdbffd373309bedcca6609882c32d94d77721872a636c77a72', '2026-10-05 10:38:00.000000', NULL),
    (4, 'the old scales', 'maker', '96efc42f1bd3fe298ea0effbfff88954d3820c71659ef3fb4f7e45011f2b1a5d', '2026-10-05 10:45:00.000000', '2026-10-06 10:45:00.000000');

INSERT INTO customers (id, name, name_folded, phone, phone_reversed, email, note, version, created_at) VALUES
    (1, 'Ísold Brannagh', 'isold brannagh', '01632 960 611', '11606923610', 'isold@brannagh.example', '', 1, '2026-10-06 11:13:00.000000'),
    (2, 'Jörg O''Dell', 'jorg o''dell', '+44 1632 960 688', '886069236144', NULL, '', 1, '2026-11-05 11:20:00.000000'),
    (3, 'Teodora Vance', 'teodora vance', '01632 960 622', '22606923610', 'teo@vance.example', '', 1, '2026-11-07 18:34:00.000000'),
    (4, 'Mads Lindqvist', 'mads lindqvist', '01632 960 633', '33606923610', NULL, '', 1, '2026-11-09 18:48:00.000000'),
    (5, 'Agnes Bell-Ferreira', 'agnes bell-ferreira', '01632 960 644', '44606923610', 'agnes@bell.example', '', 1, '2026-11-10 18:55:00.000000'),
    (6, 'Wim de Groot', 'wim de groot', NULL, '', 'wim@groot.example', '', 1, '2026-11-10 19:30:00.000000'),
    (7, 'Rhoswen', 'rhoswen', NULL, '', NULL, '', 1, '2026-11-11 19:44:00.000000'),
    (8, 'Kaspar Nyqvist', 'kaspar nyqvist', '01632 960 655', '55606923610', NULL, '', 1, '2026-11-11 19:58:00.000000'),
    (9, 'Brice Okonjo', 'brice okonjo', '01632 960 667', '76606923610', 'brice@okonjo.example', '', 2, '2026-11-11 20:05:00.000000');

INSERT INTO fingers (id, customer_id, hand, finger, system, label, circumference_um, knuckle_label, knuckle_circumference_um, to_label, to_circumference_um, measured, gauge_width_um, is_warm, taken_at, taken_by) VALUES
    (1, 1, 'left', 'ring', 'uk', 'L½', 51875, NULL, NULL, NULL, NULL, 'gauge', 6000, true, '2026-10-06 11:06:00.000000', 'Pavel'),
    (2, 1, 'right', 'ring', 'uk', 'U', 62500, NULL, NULL, NULL, NULL, 'gauge', 6000, true, '2026-10-06 11:13:00.000000', 'Pavel'),
    (3, 2, 'left', 'ring', 'de', '18½', 58119, '19', 59690, NULL, NULL, 'gauge', 3000, true, '2026-11-05 11:20:00.000000', 'Pavel'),
    (4, 1, 'left', 'ring', 'us', '6½', 53144, NULL, NULL, NULL, NULL, 'gauge', 6000, true, '2026-11-07 11:27:00.000000', 'Signe Alder'),
    (5, 3, 'left', 'ring', 'iso', '54', 54000, NULL, NULL, NULL, NULL, 'gauge', 6000, true, '2026-11-07 18:34:00.000000', 'Pavel'),
    (6, 3, 'left', 'middle', 'jp', '14', 54454, NULL, NULL, NULL, NULL, 'gauge', 6000, true, '2026-11-07 18:34:00.000000', 'Pavel'),
    (7, 3, NULL, NULL, 'ch', '14', 54000, NULL, NULL, NULL, NULL, 'ring', NULL, NULL, '2026-11-07 18:34:00.000000', 'Pavel'),
    (8, 4, 'left', 'ring', 'uk', 'R', 58750, NULL, NULL, NULL, NULL, 'gauge', 6000, true, '2026-11-09 18:48:00.000000', 'Pavel'),
    (9, 5, 'left', 'ring', 'uk', 'O½', 55625, NULL, NULL, NULL, NULL, 'gauge', 6000, true, '2026-11-10 18:55:00.000000', 'Pavel'),
    (10, 1, 'left', 'ring', 'uk', 'L½', 51875, NULL, NULL, NULL, NULL, 'gauge', 6000, true, '2026-11-10 19:09:00.000000', 'Pavel'),
    (11, 6, NULL, NULL, 'iso', '60', 60000, NULL, NULL, NULL, NULL, 'told', NULL, NULL, '2026-11-10 19:30:00.000000', 'Pavel'),
    (12, 7, 'left', 'ring', 'uk', 'L', 51250, NULL, NULL, 'N', 53750, 'told', NULL, NULL, '2026-11-11 19:44:00.000000', 'Pavel'),
    (13, 8, 'left', 'ring', 'us', '9', 59528, NULL, NULL, NULL, NULL, 'gauge', 6000, true, '2026-11-11 19:58:00.000000', 'the till''s counter'),
    (15, 9, 'left', 'ring', 'uk', 'S½', 60625, NULL, NULL, NULL, NULL, 'gauge', 6000, false, '2026-11-12 20:05:00.000000', 'Pavel');

INSERT INTO order_counters (year, last) VALUES
    (2026, 11);

INSERT INTO orders (id, number, year, serial, state, state_since, version, customer_id, wanted_on, is_wanted_hard, promised_at, bench_on, note, agreed_name, agreed_at, created_at, changed_at) VALUES
    (1, '2026-1', 2026, 1, 'handed over', '2026-11-05 11:13:00.000000', 5, 1, '2026-11-07', true, '2026-11-05 16:00:00.000000', '2026-10-26', 'Engraver''s sample is in the drawer; "matt" inside.', 'Ísold Brannagh', '2026-10-07 11:13:00.000000', '2026-10-06 11:13:00.000000', '2026-11-05 11:13:00.000000'),
    (2, '2026-2', 2026, 2, 'at the bench', '2026-11-07 11:20:00.000000', 3, 2, '2026-12-20', false, '2026-12-12 10:00:00.000000', '2026-11-23', '', 'Jörg O''Dell', '2026-11-06 11:20:00.000000', '2026-11-05 11:20:00.000000', '2026-11-07 11:20:00.000000'),
    (3, '2026-3', 2026, 3, 'ready', '2026-11-07 18:27:00.000000', 4, 1, NULL, false, '2026-11-30 10:00:00.000000', '2026-11-16', '', 'Ísold', '2026-11-07 12:27:00.000000', '2026-11-07 11:27:00.000000', '2026-11-07 18:27:00.000000'),
    (4, '2026-4', 2026, 4, 'agreed', '2026-11-09 18:34:00.000000', 3, 3, '2027-01-09', false, '2026-12-30 11:00:00.000000', '2026-12-15', 'Rings to be stacked; the copper one on top.', 'Teodora Vance', '2026-11-09 18:34:00.000000', '2026-11-07 18:34:00.000000', '2026-11-09 18:41:00.000000'),
    (5, '2026-5', 2026, 5, 'agreed', '2026-11-10 18:48:00.000000', 2, 4, '2027-02-01', false, NULL, NULL, '', 'Mads', '2026-11-10 18:48:00.000000', '2026-11-09 18:48:00.000000', '2026-11-10 18:48:00.000000'),
    (6, '2026-6', 2026, 6, 'quoted', '2026-11-10 19:02:00.000000', 2, 5, '2027-02-14', false, NULL, NULL, '', NULL, NULL, '2026-11-10 18:55:00.000000', '2026-11-10 19:02:00.000000'),
    (7, '2026-7', 2026, 7, 'agreed', '2026-11-10 19:23:00.000000', 3, 1, '2027-03-01', false, NULL, NULL, '', 'Ísold Brannagh', '2026-11-10 19:23:00.000000', '2026-11-10 19:09:00.000000', '2026-11-10 19:23:00.000000'),
    (8, '2026-8', 2026, 8, 'called off', '2026-11-11 19:37:00.000000', 3, 6, '2026-12-24', false, NULL, NULL, '', 'Wim', '2026-11-10 19:37:00.000000', '2026-11-10 19:30:00.000000', '2026-11-11 19:37:00.000000'),
    (9, '2026-9', 2026, 9, 'draft', '2026-11-11 19:44:00.000000', 1, 7, NULL, false, NULL, NULL, '', NULL, NULL, '2026-11-11 19:44:00.000000', '2026-11-11 19:44:00.000000'),
    (10, '2026-10', 2026, 10, 'draft', '2026-11-11 19:58:00.000000', 1, 8, '2027-01-20', false, NULL, NULL, '', NULL, NULL, '2026-11-11 19:58:00.000000', '2026-11-11 19:58:00.000000'),
    (11, '2026-11', 2026, 11, 'draft', '2026-11-11 20:05:00.000000', 2, 9, '2027-01-30', false, NULL, NULL, '', NULL, NULL, '2026-11-11 20:05:00.000000', '2026-11-12 20:05:00.000000');

INSERT INTO rings (id, order_id, position, finger_id, profile, width_um, thickness_um, alloy, stock, pattern, pattern_when, stretch_ppm, fit_um, reasons, circumference_um, true_length_um, mark_um, issue_mg, ring_mg, finished_mg) VALUES
    (1, 1, 1, 1, 'court', 4000, 1700, 'gold-750-yellow', 'wire', 'plain', NULL, NULL, NULL, '{}', 51875, 57216, 58216, 4870, 4761, 4618),
    (2, 1, 2, 2, 'court', 5000, 1800, 'gold-750-white-pd', 'wire', 'plain', NULL, NULL, NULL, '{}', 62500, 68155, 69155, 8018, 7867, 7631),
    (3, 2, 1, 3, 'flat', 8000, 1500, 'silver-925', 'strip', 'hammered', 'flat', NULL, NULL, '{"narrow-gauge": "Only the narrow gauge was at hand; he tried the wide one in copper."}', 59119, 63832, 64514, 8059, 7936, 7698),
    (4, 3, 1, 4, 'half-round', 4000, 1700, 'platinum-950-ru', 'wire', 'plain', NULL, NULL, NULL, '{}', 53144, 57678, 58678, 6521, 6376, 6185),
    (5, 4, 1, 5, 'round', 2000, 2000, 'silver-935', 'wire', 'plain', NULL, NULL, NULL, '{}', 54000, 60283, 61283, 2003, 1960, 1901),
    (6, 4, 2, 6, 'square', 2000, 2000, 'copper', 'wire', 'hammered', 'closed', NULL, NULL, '{}', 54454, 60077, 61077, 2200, 2153, 2089),
    (7, 4, 3, 7, 'knife-edge', 5000, 2000, 'gold-585-rose', 'wire', 'plain', NULL, NULL, NULL, '{}', 54500, 58689, 59689, 3978, 3891, 3774),
    (8, 5, 1, 8, 'low-dome', 5000, 1600, 'gold-375-yellow', 'wire', 'plain', NULL, NULL, 300, '{}', 59050, 63071, 64071, 3811, 3734, 3622),
    (9, 6, 1, 9, 'flat-court', 6000, 1800, 'platinum-950-ru', 'wire', 'plain', NULL, NULL, NULL, '{}', 55625, 62135, 63135, 11140, 10910, 10583),
    (10, 7, 1, 10, 'flat', 6000, 1500, 'silver-958', 'strip', 'rolled', 'flat', 45000, NULL, '{}', 51875, 56587, 55151, 5191, 5297, 5138),
    (11, 8, 1, 11, 'flat', 5000, 1500, 'palladium-950-ru', 'strip', 'stamped', 'closed', NULL, NULL, '{}', 60500, 63871, 64871, 5886, 5768, 5595),
    (12, 9, 1, 12, 'half-round', 3000, 1500, 'gold-750-yellow', 'wire', 'plain', NULL, NULL, NULL, '{}', 53750, 57750, 58750, 3252, 3180, 3085),
    (13, 10, 1, 13, 'flat', 4000, 1600, 'gold-750-rose', 'strip', 'plain', NULL, NULL, NULL, '{}', 59528, 64555, 65555, 6365, 6239, 6051),
    (14, 11, 1, 15, 'flat', 4000, 1600, 'silver-925', 'strip', 'plain', NULL, NULL, NULL, '{}', 60625, 65652, 66652, 4440, 4353, 4222);

INSERT INTO audit_entries (id, at, user_id, actor, verb, order_id, customer_id, old, new, reason) VALUES
    (1, '2026-10-05 09:07:00.000000', NULL, 'shankwright', 'found the studio', NULL, NULL, NULL, '{"address": "3 Ferry Lane, Hythe", "currency": "GBP", "email": "book@alderbeck.example", "hallmark_rule": "uk", "name": "Alderbeck", "phone": "01632 960 640", "subtitle": "rings by hand", "time_zone": "Europe/London", "version": 1}', NULL),
    (2, '2026-10-05 09:14:00.000000', NULL, 'shankwright', 'add a user', NULL, NULL, NULL, '{"name": "Signe Alder", "role": "owner"}', NULL),
    (3, '2026-10-05 09:21:00.000000', NULL, 'shankwright', 'add a user', NULL, NULL, NULL, '{"name": "Pavel", "role": "counter"}', NULL),
    (4, '2026-10-05 09:28:00.000000', NULL, 'shankwright', 'add a user', NULL, NULL, NULL, '{"name": "Úna", "role": "maker"}', NULL),
    (5, '2026-10-05 09:35:00.000000', NULL, 'shankwright', 'add a user', NULL, NULL, NULL, '{"name": "Corin", "role": "counter"}', NULL),
    (6, '2026-10-05 09:42:00.000000', NULL, 'shankwright', 'make a one-time link', NULL, NULL, NULL, '{"user": "Signe Alder"}', NULL),
    (7, '2026-10-05 09:49:00.000000', 1, 'Signe Alder', 'set a passphrase', NULL, NULL, NULL, '{"user": "Signe Alder"}', NULL),
    (8, '2026-10-05 09:49:00.000000', 1, 'Signe Alder', 'enter by a one-time link', NULL, NULL, NULL, NULL, NULL),
    (9, '2026-10-05 09:56:00.000000', 1, 'Signe Alder', 'make a one-time link', NULL, NULL, NULL, '{"user": "Pavel"}', NULL),
    (10, '2026-10-05 10:03:00.000000', 2, 'Pavel', 'set a passphrase', NULL, NULL, NULL, '{"user": "Pavel"}', NULL),
    (11, '2026-10-05 10:03:00.000000', 2, 'Pavel', 'enter by a one-time link', NULL, NULL, NULL, NULL, NULL),
    (12, '2026-10-05 10:10:00.000000', 1, 'Signe Alder', 'make a one-time link', NULL, NULL, NULL, '{"user": "Corin"}', NULL),
    (13, '2026-10-05 10:17:00.000000', 4, 'Corin', 'set a passphrase', NULL, NULL, NULL, '{"user": "Corin"}', NULL),
    (14, '2026-10-05 10:17:00.000000', 4, 'Corin', 'enter by a one-time link', NULL, NULL, NULL, NULL, NULL),
    (15, '2026-10-05 10:24:00.000000', 1, 'Signe Alder', 'make a token', NULL, NULL, NULL, '{"name": "the till''s owner", "role": "owner"}', NULL),
    (16, '2026-10-05 10:31:00.000000', 1, 'Signe Alder', 'make a token', NULL, NULL, NULL, '{"name": "the till''s counter", "role": "counter"}', NULL),
    (17, '2026-10-05 10:38:00.000000', 1, 'Signe Alder', 'make a token', NULL, NULL, NULL, '{"name": "the till''s maker", "role": "maker"}', NULL),
    (18, '2026-10-05 10:45:00.000000', 1, 'Signe Alder', 'make a token', NULL, NULL, NULL, '{"name": "the old scales", "role": "maker"}', NULL),
    (19, '2026-10-06 10:45:00.000000', 1, 'Signe Alder', 'end a token', NULL, NULL, '{"name": "the old scales", "role": "maker"}', NULL, NULL),
    (20, '2026-10-06 10:59:00.000000', 2, 'Pavel', 'sign in', NULL, NULL, NULL, NULL, NULL),
    (21, '2026-10-06 11:13:00.000000', 2, 'Pavel', 'add a customer', NULL, 1, NULL, '{"email": "isold@brannagh.example", "name": "Ísold Brannagh", "note": "", "phone": "01632 960 611"}', NULL),
    (22, '2026-10-06 11:13:00.000000', 2, 'Pavel', 'take an order', 1, NULL, NULL, '{"bench_on": "2026-10-26", "note": "Engraver''s sample is in the drawer; \"matt\" inside.", "promised_at": "2026-11-05T16:00:00+00:00", "rings": [{"alloy": "gold-750-yellow", "finger": "ring", "from": "wire", "gauge_width_mm": 6.0, "hand": "left", "is_warm": true, "measured": "gauge", "pattern": "plain", "profile": "court", "size": "L½", "system": "uk", "taken_at": "2026-10-06T11:06:00+00:00", "taken_by": "Pavel", "thickness_mm": 1.7, "width_mm": 4.0}, {"alloy": "gold-750-white-pd", "finger": "ring", "from": "wire", "gauge_width_mm": 6.0, "hand": "right", "is_warm": true, "measured": "gauge", "pattern": "plain", "profile": "court", "size": "U", "system": "uk", "taken_at": "2026-10-06T11:13:00+00:00", "taken_by": "Pavel", "thickness_mm": 1.8, "width_mm": 5.0}], "wanted_hard": true, "wanted_on": "2026-11-07"}', NULL),
    (23, '2026-10-07 11:13:00.000000', 2, 'Pavel', 'note the yes', 1, NULL, '{"state": "draft"}', '{"agreed_name": "Ísold Brannagh", "state": "agreed"}', NULL),
    (24, '2026-10-26 11:13:00.000000', 3, 'Úna', 'give it to the bench', 1, NULL, '{"state": "agreed"}', '{"state": "at the bench"}', NULL),
    (25, '2026-10-28 11:13:00.000000', 3, 'Úna', 'mark it ready', 1, NULL, '{"state": "at the bench"}', '{"state": "ready"}', NULL),
    (26, '2026-11-05 11:13:00.000000', 2, 'Pavel', 'hand it over', 1, NULL, '{"state": "ready"}', '{"state": "handed over"}', NULL),
    (27, '2026-11-05 11:20:00.000000', 2, 'Pavel', 'add a customer', NULL, 2, NULL, '{"email": null, "name": "Jörg O''Dell", "note": "", "phone": "+44 1632 960 688"}', NULL),
    (28, '2026-11-05 11:20:00.000000', 2, 'Pavel', 'take an order', 2, NULL, NULL, '{"bench_on": "2026-11-23", "note": "", "promised_at": "2026-12-12T10:00:00+00:00", "rings": [{"alloy": "silver-925", "finger": "ring", "from": "strip", "gauge_width_mm": 3.0, "hand": "left", "is_warm": true, "knuckle": "19", "measured": "gauge", "pattern": "hammered", "pattern_when": "flat", "profile": "flat", "reasons": {"narrow-gauge": "Only the narrow gauge was at hand; he tried the wide one in copper."}, "size": "18½", "system": "de", "taken_at": "2026-11-05T11:20:00+00:00", "taken_by": "Pavel", "thickness_mm": 1.5, "width_mm": 8.0}], "wanted_hard": false, "wanted_on": "2026-12-20"}', NULL),
    (29, '2026-11-06 11:20:00.000000', 2, 'Pavel', 'note the yes', 2, NULL, '{"state": "draft"}', '{"agreed_name": "Jörg O''Dell", "state": "agreed"}', NULL),
    (30, '2026-11-07 11:20:00.000000', 3, 'Úna', 'give it to the bench', 2, NULL, '{"state": "agreed"}', '{"state": "at the bench"}', NULL),
    (31, '2026-11-07 11:27:00.000000', 1, 'Signe Alder', 'take an order', 3, NULL, NULL, '{"bench_on": "2026-11-16", "note": "", "promised_at": "2026-11-30T10:00:00+00:00", "rings": [{"alloy": "platinum-950-ru", "finger": "ring", "from": "wire", "gauge_width_mm": 6.0, "hand": "left", "is_warm": true, "measured": "gauge", "pattern": "plain", "profile": "half-round", "size": "6½", "system": "us", "taken_at": "2026-11-07T11:27:00+00:00", "taken_by": "Signe Alder", "thickness_mm": 1.7, "width_mm": 4.0}], "wanted_hard": false, "wanted_on": null}', NULL),
    (32, '2026-11-07 12:27:00.000000', 2, 'Pavel', 'note the yes', 3, NULL, '{"state": "draft"}', '{"agreed_name": "Ísold", "state": "agreed"}', NULL),
    (33, '2026-11-07 13:27:00.000000', 3, 'Úna', 'give it to the bench', 3, NULL, '{"state": "agreed"}', '{"state": "at the bench"}', NULL),
    (34, '2026-11-07 18:27:00.000000', 3, 'Úna', 'mark it ready', 3, NULL, '{"state": "at the bench"}', '{"state": "ready"}', NULL),
    (35, '2026-11-07 18:34:00.000000', 2, 'Pavel', 'add a customer', NULL, 3, NULL, '{"email": "teo@vance.example", "name": "Teodora Vance", "note": "", "phone": "01632 960 622"}', NULL),
    (36, '2026-11-07 18:34:00.000000', 2, 'Pavel', 'take an order', 4, NULL, NULL, '{"bench_on": "2026-12-14", "note": "", "promised_at": "2026-12-30T11:00:00+00:00", "rings": [{"alloy": "silver-935", "finger": "ring", "from": "wire", "gauge_width_mm": 6.0, "hand": "left", "is_warm": true, "measured": "gauge", "pattern": "plain", "profile": "round", "size": "54", "system": "iso", "taken_at": "2026-11-07T18:34:00+00:00", "taken_by": "Pavel", "thickness_mm": 2.0, "width_mm": 2.0}, {"alloy": "copper", "finger": "middle", "from": "wire", "gauge_width_mm": 6.0, "hand": "left", "is_warm": true, "measured": "gauge", "pattern": "hammered", "pattern_when": "closed", "profile": "square", "size": "14", "system": "jp", "taken_at": "2026-11-07T18:34:00+00:00", "taken_by": "Pavel", "thickness_mm": 2.0, "width_mm": 2.0}, {"alloy": "gold-585-rose", "from": "wire", "measured": "ring", "pattern": "plain", "profile": "knife-edge", "size": "14", "system": "ch", "taken_at": "2026-11-07T18:34:00+00:00", "taken_by": "Pavel", "thickness_mm": 2.0, "width_mm": 5.0}], "wanted_hard": false, "wanted_on": "2027-01-09"}', NULL),
    (37, '2026-11-09 18:34:00.000000', 2, 'Pavel', 'note the yes', 4, NULL, '{"state": "draft"}', '{"agreed_name": "Teodora Vance", "state": "agreed"}', NULL),
    (38, '2026-11-09 18:41:00.000000', 1, 'Signe Alder', 'change an order', 4, NULL, '{"bench_on": "2026-12-14", "note": ""}', '{"bench_on": "2026-12-15", "note": "Rings to be stacked; the copper one on top."}', NULL),
    (39, '2026-11-09 18:48:00.000000', 2, 'Pavel', 'add a customer', NULL, 4, NULL, '{"email": null, "name": "Mads Lindqvist", "note": "", "phone": "01632 960 633"}', NULL),
    (40, '2026-11-09 18:48:00.000000', 2, 'Pavel', 'take an order', 5, NULL, NULL, '{"bench_on": null, "note": "", "promised_at": null, "rings": [{"alloy": "gold-375-yellow", "finger": "ring", "fit_mm": 0.3, "from": "wire", "gauge_width_mm": 6.0, "hand": "left", "is_warm": true, "measured": "gauge", "pattern": "plain", "profile": "low-dome", "size": "R", "system": "uk", "taken_at": "2026-11-09T18:48:00+00:00", "taken_by": "Pavel", "thickness_mm": 1.6, "width_mm": 5.0}], "wanted_hard": false, "wanted_on": "2027-02-01"}', NULL),
    (41, '2026-11-10 18:48:00.000000', 2, 'Pavel', 'note the yes', 5, NULL, '{"state": "draft"}', '{"agreed_name": "Mads", "state": "agreed"}', NULL),
    (42, '2026-11-10 18:55:00.000000', 2, 'Pavel', 'add a customer', NULL, 5, NULL, '{"email": "agnes@bell.example", "name": "Agnes Bell-Ferreira", "note": "", "phone": "01632 960 644"}', NULL),
    (43, '2026-11-10 18:55:00.000000', 2, 'Pavel', 'take an order', 6, NULL, NULL, '{"bench_on": null, "note": "", "promised_at": null, "rings": [{"alloy": "platinum-950-ru", "finger": "ring", "from": "wire", "gauge_width_mm": 6.0, "hand": "left", "is_warm": true, "measured": "gauge", "pattern": "plain", "profile": "flat-court", "size": "O½", "system": "uk", "taken_at": "2026-11-10T18:55:00+00:00", "taken_by": "Pavel", "thickness_mm": 1.8, "width_mm": 6.0}], "wanted_hard": false, "wanted_on": "2027-02-14"}', NULL),
    (44, '2026-11-10 19:02:00.000000', 2, 'Pavel', 'note the quote', 6, NULL, '{"state": "draft"}', '{"state": "quoted"}', NULL),
    (45, '2026-11-10 19:09:00.000000', 2, 'Pavel', 'take an order', 7, NULL, NULL, '{"bench_on": null, "note": "", "promised_at": null, "rings": [{"alloy": "silver-958", "finger": "ring", "from": "strip", "gauge_width_mm": 6.0, "hand": "left", "is_warm": true, "measured": "gauge", "pattern": "rolled", "pattern_when": "flat", "profile": "flat", "size": "L½", "stretch_percent": 4.5, "system": "uk", "taken_at": "2026-11-10T19:09:00+00:00", "taken_by": "Pavel", "thickness_mm": 1.5, "width_mm": 6.0}], "wanted_hard": false, "wanted_on": "2027-03-01"}', NULL),
    (46, '2026-11-10 19:16:00.000000', 2, 'Pavel', 'note the quote', 7, NULL, '{"state": "draft"}', '{"state": "quoted"}', NULL),
    (47, '2026-11-10 19:23:00.000000', 2, 'Pavel', 'note the yes', 7, NULL, '{"state": "quoted"}', '{"agreed_name": "Ísold Brannagh", "state": "agreed"}', NULL),
    (48, '2026-11-10 19:30:00.000000', 2, 'Pavel', 'add a customer', NULL, 6, NULL, '{"email": "wim@groot.example", "name": "Wim de Groot", "note": "", "phone": null}', NULL),
    (49, '2026-11-10 19:30:00.000000', 2, 'Pavel', 'take an order', 8, NULL, NULL, '{"bench_on": null, "note": "", "promised_at": null, "rings": [{"alloy": "palladium-950-ru", "from": "strip", "measured": "told", "pattern": "stamped", "pattern_when": "closed", "profile": "flat", "size": "60", "system": "iso", "taken_at": "2026-11-10T19:30:00+00:00", "taken_by": "Pavel", "thickness_mm": 1.5, "width_mm": 5.0}], "wanted_hard": false, "wanted_on": "2026-12-24"}', NULL),
    (50, '2026-11-10 19:37:00.000000', 2, 'Pavel', 'note the yes', 8, NULL, '{"state": "draft"}', '{"agreed_name": "Wim", "state": "agreed"}', NULL),
    (51, '2026-11-11 19:37:00.000000', 1, 'Signe Alder', 'call it off', 8, NULL, '{"state": "agreed"}', '{"state": "called off"}', 'The wedding is put off.'),
    (52, '2026-11-11 19:44:00.000000', 2, 'Pavel', 'add a customer', NULL, 7, NULL, '{"email": null, "name": "Rhoswen", "note": "", "phone": null}', NULL),
    (53, '2026-11-11 19:44:00.000000', 2, 'Pavel', 'take an order', 9, NULL, NULL, '{"bench_on": null, "note": "", "promised_at": null, "rings": [{"alloy": "gold-750-yellow", "finger": "ring", "from": "wire", "hand": "left", "measured": "told", "pattern": "plain", "profile": "half-round", "size": "L", "system": "uk", "taken_at": "2026-11-11T19:44:00+00:00", "taken_by": "Pavel", "thickness_mm": 1.5, "to_size": "N", "width_mm": 3.0}], "wanted_hard": false, "wanted_on": null}', NULL),
    (54, '2026-11-11 19:58:00.000000', NULL, 'the till''s counter', 'add a customer', NULL, 8, NULL, '{"email": null, "name": "Kaspar Nyqvist", "note": "", "phone": "01632 960 655"}', NULL),
    (55, '2026-11-11 19:58:00.000000', NULL, 'the till''s counter', 'take an order', 10, NULL, NULL, '{"bench_on": null, "note": "", "promised_at": null, "rings": [{"alloy": "gold-750-rose", "finger": "ring", "from": "strip", "gauge_width_mm": 6.0, "hand": "left", "is_warm": true, "measured": "gauge", "pattern": "plain", "profile": "flat", "size": "9", "system": "us", "taken_at": "2026-11-11T19:58:00+00:00", "taken_by": "the till''s counter", "thickness_mm": 1.6, "width_mm": 4.0}], "wanted_hard": false, "wanted_on": "2027-01-20"}', NULL),
    (56, '2026-11-11 20:05:00.000000', 2, 'Pavel', 'add a customer', NULL, 9, NULL, '{"email": null, "name": "Brice Okonjo", "note": "", "phone": "01632 960 666"}', NULL),
    (57, '2026-11-11 20:05:00.000000', 2, 'Pavel', 'take an order', 11, NULL, NULL, '{"bench_on": null, "note": "", "promised_at": null, "rings": [{"alloy": "silver-925", "from": "strip", "measured": "told", "pattern": "plain", "profile": "flat", "size": "T", "system": "uk", "taken_at": "2026-11-11T20:05:00+00:00", "taken_by": "Pavel", "thickness_mm": 1.6, "width_mm": 4.0}], "wanted_hard": false, "wanted_on": "2027-01-30"}', NULL),
    (58, '2026-11-12 20:05:00.000000', 2, 'Pavel', 'change a customer', NULL, 9, '{"email": null, "phone": "01632 960 666"}', '{"email": "brice@okonjo.example", "phone": "01632 960 667"}', NULL),
    (59, '2026-11-12 20:05:00.000000', 2, 'Pavel', 'change an order', 11, NULL, '{"rings": [{"alloy": "silver-925", "from": "strip", "measured": "told", "pattern": "plain", "profile": "flat", "size": "T", "system": "uk", "taken_at": "2026-11-11T20:05:00+00:00", "taken_by": "Pavel", "thickness_mm": 1.6, "width_mm": 4.0}]}', '{"rings": [{"alloy": "silver-925", "finger": "ring", "from": "strip", "gauge_width_mm": 6.0, "hand": "left", "is_warm": false, "measured": "gauge", "pattern": "plain", "profile": "flat", "size": "S½", "system": "uk", "taken_at": "2026-11-12T20:05:00+00:00", "taken_by": "Pavel", "thickness_mm": 1.6, "width_mm": 4.0}]}', NULL),
    (60, '2026-11-12 20:12:00.000000', 1, 'Signe Alder', 'change the studio', NULL, NULL, '{"subtitle": "rings by hand", "version": 1}', '{"subtitle": "rings and repairs by hand", "version": 2}', NULL),
    (61, '2026-11-12 20:19:00.000000', 1, 'Signe Alder', 'end a user', NULL, NULL, '{"name": "Corin"}', NULL, NULL),
    (62, '2026-11-12 20:26:00.000000', 1, 'Signe Alder', 'make a one-time link', NULL, NULL, NULL, '{"user": "Úna"}', NULL),
    (63, '2026-11-12 20:33:00.000000', 1, 'Signe Alder', 'sign in', NULL, NULL, NULL, NULL, NULL);

INSERT INTO answers (id, actor, key, fingerprint, status, body, location, created_at) VALUES
    (1, 'token 2', 'till-0117', 'c0ffee0117', 201, '{"number":"2026-10","state":"draft"}', '/api/orders/2026-10', '2026-11-11 19:51:00.000000');
