-- What came with the tables of later releases, for the studio of first_release.sql and by its people.

INSERT INTO counter_drafts (id, key, person, typed, order_id, ring, saved_at, done_at) VALUES
    (1, 'd-1', 'Pavel', '{"customer.name": "Éamon; the tall one", "finger.size": "N ½", "width": "6,5"}', NULL, NULL, '2026-11-13 09:00:00.000000', NULL),
    (2, 'd-2', 'Signe Alder', '{"width": "4"}', 11, 1, '2026-11-13 09:00:00.000000', NULL),
    (3, 'd-3', 'Pavel', '{}', 10, NULL, '2026-11-13 09:04:00.000000', '2026-11-13 09:04:00.000000');

INSERT INTO rates (id, since, currency, labour_hour_minor, overhead_bp, consumables_minor, premium_bp, waste_bp, margin_bp, extra_margins_bp, assay_minor, tax_bp, step_minor, deposit_bp, valid_days, stale_after_days, minutes, entered_at, user_id, actor) VALUES
    (1, '2026-11-13', 'GBP', 4800, 2500, 400, 1200, 500, 3000, '{"assay": 1000}', 1200, 2000, 500, 4000, 14, 7, '{"anneal": 19, "bend": 20, "finish:hammered": 29, "finish:plain": 28, "finish:rolled": 31, "finish:stamped": 30, "pattern:hammered": 16, "pattern:stamped": 17, "profile:court": 12, "profile:flat-court": 13, "profile:half-round": 10, "profile:knife-edge": 15, "profile:low-dome": 11, "profile:round": 14, "roll": 8, "round": 22, "saw": 9, "seam-pattern:hammered": 24, "seam-pattern:rolled": 26, "seam-pattern:stamped": 25, "sides": 23, "size": 27, "solder": 21, "square": 18, "weigh": 7}', '2026-11-13 09:00:00.000000', 1, 'Signe Alder');

INSERT INTO metal_prices (id, metal, price, currency, unit, on_day, source, entered_at, user_id, actor) VALUES
    (1, 'gold', '65.20', 'GBP', 'g', '2026-11-13', 'the merchant''s list of the morning', '2026-11-13 09:00:00.000000', 1, 'Signe Alder'),
    (2, 'silver', '0.95', 'GBP', 'g', '2026-11-13', 'the merchant''s list of the morning', '2026-11-13 09:00:00.000000', 1, 'Signe Alder'),
    (3, 'platinum', '31', 'GBP', 'g', '2026-11-13', 'the merchant''s list of the morning', '2026-11-13 09:00:00.000000', 1, 'Signe Alder'),
    (4, 'palladium', '28.4', 'GBP', 'g', '2026-11-13', 'the merchant''s list of the morning', '2026-11-13 09:00:00.000000', 1, 'Signe Alder'),
    (5, 'copper', '0.0184', 'GBP', 'g', '2026-11-13', 'the merchant''s list of the morning', '2026-11-13 09:00:00.000000', 1, 'Signe Alder');

INSERT INTO quotes (id, number, order_id, revision, state, issued_at, user_id, actor, valid_until, currency, net_minor, tax_minor, total_minor, deposit_minor, lines, frozen, superseded_at) VALUES
    (1, '2026-6-q1', 6, 1, 'open', '2026-11-13 09:05:00.000000', 2, 'Pavel', '2026-11-27', 'GBP', 85000, 17000, 102000, 40800, '[{"net_minor": 83667, "tax_minor": 16733, "text": "The ring, made by hand"}, {"net_minor": 1333, "tax_minor": 267, "text": "Its hallmark"}]', '{"breakdown": {"currency": "GBP", "deposit_minor": 40800, "lines": [{"net_minor": 83667, "tax_minor": 16733, "text": "The ring, made by hand"}, {"net_minor": 1333, "tax_minor": 267, "text": "Its hallmark"}], "net_minor": 85000, "rings": [{"consumables_minor": 400, "extras": [[{"cost_minor": 1200, "kind": "assay", "text": "Its hallmark"}, 1333]], "job": {"alloy": "platinum-950-ru", "bought": [{"cost_minor": 1200, "kind": "assay", "text": "Its hallmark"}], "issue_mg": 11140, "minutes": 194, "text": "The ring, made by hand"}, "labour_minor": 15520, "line_minor": 83401, "metal_minor": 38581, "overhead_minor": 3880, "own_minor": 58381, "working": [{"figure": "price.metal", "formula": "issue x price of a gram x (1 + premium / 100) x (1 + waste / 100)", "inputs": [{"name": "issue", "unit": "g", "value": 11.14}, {"name": "price of a gram", "unit": "GBP/g", "value": 29.45}, {"name": "premium", "unit": "%", "value": 12.0}, {"name": "waste", "unit": "%", "value": 5.0}], "source": "the merchant''s list of the morning, 2026-11-13", "unit": "GBP", "value": 385.81}, {"figure": "price.labour", "formula": "minutes / 60 x rate of an hour", "inputs": [{"name": "minutes", "unit": "min", "value": 194}, {"name": "rate of an hour", "unit": "GBP", "value": 48.0}], "source": "the studio''s own rates", "unit": "GBP", "value": 155.2}, {"figure": "price.overhead", "formula": "labour x overhead / 100", "inputs": [{"name": "labour", "unit": "GBP", "value": 155.2}, {"name": "overhead", "unit": "%", "value": 25.0}], "source": "the studio''s own rates", "unit": "GBP", "value": 38.8}, {"figure": "price.own", "formula": "metal + labour + overhead + consumables", "inputs": [{"name": "metal", "unit": "GBP", "value": 385.81}, {"name": "labour", "unit": "GBP", "value": 155.2}, {"name": "overhead", "unit": "GBP", "value": 38.8}, {"name": "consumables", "unit": "GBP", "value": 4.0}], "source": "the studio''s own rates", "unit": "GBP", "value": 583.81}, {"figure": "price.line", "formula": "own / (1 - margin / 100)", "inputs": [{"name": "own", "unit": "GBP", "value": 583.81}, {"name": "margin", "unit": "%", "value": 30.0}], "source": "the studio''s own rates", "unit": "GBP", "value": 834.01}]}], "rounding_minor": 266, "tax_minor": 17000, "total_minor": 102000}, "customer": "Agnes Bell-Ferreira", "issued_on": "2026-11-13", "number": "2026-6-q1", "order": "2026-6", "prices": [{"metal": "platinum", "on": "2026-11-13", "price": "31", "source": "the merchant''s list of the morning", "unit": "g"}], "promised_at": null, "rates": {"assay_minor": 1200, "consumables_minor": 400, "currency": "GBP", "deposit_percent": "40", "extra_margin_percent": {"assay": "10"}, "labour_hour_minor": 4800, "margin_percent": "30", "minutes": {"anneal": 19, "bend": 20, "finish:hammered": 29, "finish:plain": 28, "finish:rolled": 31, "finish:stamped": 30, "pattern:hammered": 16, "pattern:stamped": 17, "profile:court": 12, "profile:flat-court": 13, "profile:half-round": 10, "profile:knife-edge": 15, "profile:low-dome": 11, "profile:round": 14, "roll": 8, "round": 22, "saw": 9, "seam-pattern:hammered": 24, "seam-pattern:rolled": 26, "seam-pattern:stamped": 25, "sides": 23, "size": 27, "solder": 21, "square": 18, "weigh": 7}, "overhead_percent": "25", "premium_percent": "12", "stale_after_days": 7, "step_minor": 500, "tax_percent": "20", "valid_days": 14, "waste_percent": "5"}, "rings": [{"design": {"alloy": "platinum-950-ru", "circumference_um": 55625, "finished_mg": 10583, "fit_um": null, "issue_mg": 11140, "mark_um": 63135, "pattern": "plain", "pattern_when": null, "profile": "flat-court", "ring_mg": 10910, "stock": "wire", "stretch_ppm": null, "thickness_um": 1800, "true_length_um": 62135, "width_um": 6000}, "finger": {"circumference_um": 55625, "finger": "ring", "gauge_width_um": 6000, "hand": "left", "is_warm": true, "knuckle_circumference_um": null, "knuckle_label": null, "label": "O½", "measured": "gauge", "system": "uk", "to_circumference_um": null, "to_label": null}, "is_marked": true, "minutes": 194, "minutes_are_typed": false, "position": 1, "reasons": {}, "steps": [["weigh", 7], ["saw", 9], ["square", 18], ["anneal", 19], ["bend", 20], ["solder", 21], ["round", 22], ["sides", 23], ["size", 27], ["finish:plain", 28]], "taken_at": "2026-11-10T18:55:00+00:00", "taken_by": "Pavel"}], "studio": {"address": "3 Ferry Lane, Hythe", "currency": "GBP", "email": "book@alderbeck.example", "hallmark_rule": "uk", "name": "Alderbeck", "phone": "01632 960 640", "returns": "What is made to your order cannot be returned because of a change of mind. Faults we put right.", "small_print": "", "subtitle": "rings and repairs by hand", "tax_name": "VAT", "time_zone": "Europe/London"}, "valid_until": "2026-11-27", "wanted_on": "2027-02-14"}', NULL);

INSERT INTO agreements (id, order_id, quote_id, name, agreed_at, user_id, actor, reason, deposit_asked_minor, deposit_minor, without_deposit, deposit_at, deposit_actor, ended_at) VALUES
    (1, 6, 1, 'Agnes Bell-Ferreira', '2026-11-13 14:00:00.000000', 2, 'Pavel', NULL, 40800, 40800, NULL, '2026-11-13 14:00:00.000000', 'Pavel', '2026-11-13 15:00:00.000000');

INSERT INTO payments (id, number, order_id, amount_minor, currency, method, reference, on_day, noted_at, user_id, actor, undoes_id, why) VALUES
    (1, '2026-6-p1', 6, 40800, 'GBP', 'card', 'slip 0481', '2026-11-13', '2026-11-13 14:00:00.000000', 2, 'Pavel', NULL, ''),
    (2, '2026-6-p2', 6, -40800, 'GBP', 'card', '', '2026-11-13', '2026-11-13 14:05:00.000000', 2, 'Pavel', 1, 'of another order');

INSERT INTO quote_sendings (id, quote_id, at, how, sent_to, user_id, actor) VALUES
    (1, 1, '2026-11-13 09:09:00.000000', 'e-mail', 'agnes@bell.example', 2, 'Pavel');

INSERT INTO practices (id, since, figures, changed, is_carried, source, entered_at, user_id, actor) VALUES
    (1, '2026-11-16', '{"kerf_mm": 0.28, "stated_on": "2026-11-16", "said": {"kerf_mm": {"since": "2026-11-16", "source": "measured; blade 2/0"}}}', '{"kerf_mm": [0.31, 0.28]}', false, 'measured; blade 2/0', '2026-11-14 09:00:00.000000', 1, 'Signe Alder');

INSERT INTO gauges (id, name, kind, system, width_um, step_um, correction_um, calibrated_on, note, is_usual, is_put_away, version, changed_at) VALUES
    (1, 'Wide set', 'set', 'uk', 6000, 625, 120, '2026-11-03', 'against the master stick; O½ reads small', true, false, 2, '2026-11-14 09:00:00.000000'),
    (2, 'Old stick', 'stick', 'us', NULL, 1277, -50, NULL, '', false, true, 1, '2026-11-14 09:00:00.000000');

INSERT INTO bench_records (id, order_id, position, ring, measured_on, pattern, pattern_when, alloy, metal, thickness_um, before_um, after_um, closed_um, formed_um, tool, maker, wrong, version, user_id, changed_at) VALUES
    (1, 6, 1, '2026-6/1', '2026-11-13', 'hammered', 'flat', 'silver-925', 'silver', 1500, 60000, 61200, 57100, NULL, 'planishing hammer', 'Pavel', '', 1, 2, '2026-11-13 16:00:00.000000');

INSERT INTO cuts (id, booked_at, actor, user_id, kerf_um, lemel_mg, told, undone_at, undone_by) VALUES
    (1, '2026-11-13 15:00:00.000000', 'Pavel', 2, 310, 120, '{}', NULL, NULL);

INSERT INTO pieces (id, kind, alloy, metal, profile, length_um, width_um, thickness_um, mass_mg, is_weighed, lot, paid_minor, place, owner_id, order_id, is_offcut, cut_id, used_in_id, gone, version, user_id, changed_at) VALUES
    (1, 'sheet', 'silver-925', 'silver', NULL, 198000, 24000, 1500, 73850, true, 'A-77', 9500, 'top drawer', NULL, NULL, false, NULL, 1, 'cut', 2, 2, '2026-11-13 15:00:00.000000'),
    (2, 'strip', 'silver-925', 'silver', NULL, 75300, 5000, 1500, 5850, false, 'A-77', NULL, 'top drawer', NULL, NULL, true, 1, NULL, '', 1, 2, '2026-11-13 15:00:00.000000');

INSERT INTO pictures (id, order_id, position, note, width_px, height_px, sha256, added_at, user_id, actor, taken_away_at, small_jpeg, jpeg) VALUES
    (1, 6, 1, 'the leaf; as it lies', 1600, 1200, '9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08', '2026-11-13 10:00:00.000000', 2, 'Pavel', '2026-11-13 11:00:00.000000', NULL, NULL);
INSERT INTO mendings (id, order_id, mended_id, position, kind, cause, words, paid_by) VALUES
    (1, 7, 6, 1, 'remake', 'made wrong', 'the seam; it opened', 'studio'),
    (2, 8, 7, 1, 'resize', NULL, '', NULL);

INSERT INTO callings_off (id, order_id, quote_id, stage, currency, total_minor, paid_minor, percent_bp, owed_minor, metal, called_off_at, user_id, actor, ended_at) VALUES
    (1, 6, 1, 'cut', 'GBP', 28956, 11582, 2500, 7239, '[{"mass_mg": 5600, "piece": null, "ring": 1, "to": "scrap"}]', '2026-11-13 10:00:00.000000', 2, 'Pavel', NULL);

INSERT INTO answer_links (id, quote_id, key_hash, made_at, user_id, actor, ended_at, reply, answered_at, name, words, address, sha256) VALUES
    (1, 1, '9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08', '2026-11-13 10:00:00.000000', 2, 'Pavel', NULL, 'no', '2026-11-13 11:00:00.000000', '', 'too wide; a little', '192.0.2.7', NULL);
INSERT INTO documents (id, number, order_id, kind, revision, issued_at, user_id, actor, goods, frozen) VALUES
    (1, '2026-6-r1', 6, 'receipt', 1, '2026-11-13 09:30:00.000000', 2, 'Pavel', '[{"at": null, "bag": "A-17", "place": 1, "receipt": "2026-6-r1", "ring": null, "stone": null, "weight_mg": 2140, "words": "an old ring; thin"}]', '{"actor": "Pavel", "custody": "", "customer": "Agnes Bell-Ferreira", "goods": [{"at": null, "bag": "A-17", "place": 1, "receipt": "2026-6-r1", "ring": null, "stone": null, "weight_mg": 2140, "words": "an old ring; thin"}], "issued_on": "2026-11-13", "number": "2026-6-r1", "order": "2026-6", "studio": {"address": "", "email": "", "name": "Alderbeck", "phone": "", "subtitle": ""}}');

INSERT INTO outbox (id, quote_id, to_address, kind, state, tries, next_try_at, taken_until, last_answer, message_id, queued_at, settled_at, user_id, actor) VALUES
    (1, 1, 'agnes@bell.example', 'quote', 'refused', 1, NULL, NULL, '550 no such box; try another', '<quote-2026-6-q1.0a1b2c@alderbeck.example>', '2026-11-13 09:08:00.000000', '2026-11-13 09:08:30.000000', 2, 'Pavel'),
    (2, 1, 'book@alderbeck.example', 'test', 'queued', 2, '2026-11-13 09:20:00.000000', NULL, '451 later', '<quote-2026-6-q1.3d4e5f@alderbeck.example>', '2026-11-13 09:14:00.000000', NULL, NULL, 'a program');

INSERT INTO invoice_counters (year, last) VALUES (2026, 2);
INSERT INTO invoices (id, number, year, serial, order_id, kind, issued_at, issued_on, user_id, actor, customer, currency, net_minor, tax_minor, sums, payment, credits_id, reason, frozen) VALUES
    (1, 'WR-2026-0001', 2026, 1, 6, 'on account', '2026-11-13 14:10:00.000000', '2026-11-13', 2, 'Pavel', 'Agnes Bell-Ferreira', 'GBP', 34000, 6800, '[{"net_minor": 34000, "percent": "20", "tax_minor": 6800}]', '2026-6-p1', NULL, '', '{"currency": "GBP", "customer": "Agnes Bell-Ferreira", "issued_on": "2026-11-13", "kind": "on account", "lines": [{"percent": "20", "quantity": 1, "taxed": {"net_minor": 34000, "tax_minor": 6800}, "text": "Payment on account of order 2026-6"}], "number": "WR-2026-0001", "order_number": "2026-6", "studio": {"name": "Alderbeck"}}'),
    (2, 'WR-2026-0002', 2026, 2, 6, 'credit note', '2026-11-13 14:20:00.000000', '2026-11-13', 2, 'Pavel', 'Agnes Bell-Ferreira', 'GBP', -34000, -6800, '[{"net_minor": -34000, "percent": "20", "tax_minor": -6800}]', NULL, 1, 'not hers; another''s', '{"currency": "GBP", "customer": "Agnes Bell-Ferreira", "issued_on": "2026-11-13", "kind": "credit note", "lines": [{"percent": "20", "quantity": 1, "taxed": {"net_minor": 34000, "tax_minor": 6800}, "text": "Invoice WR-2026-0001"}], "credits": {"number": "WR-2026-0001", "issued_on": "2026-11-13"}, "reason": "not hers; another''s", "number": "WR-2026-0002", "order_number": "2026-6", "studio": {"name": "Alderbeck"}}');

INSERT INTO outbox (id, quote_id, to_address, kind, state, tries, next_try_at, taken_until, last_answer, message_id, queued_at, settled_at, user_id, actor, about, subject, words) VALUES
    (3, 1, 'agnes@bell.example', 'reminder', 'taken along', 0, NULL, NULL, '', '<reminder-2026-6-q1.6a7b8c@alderbeck.example>', '2026-11-13 10:14:00.000000', '2026-11-13 10:14:00.000000', 2, 'Pavel', 'quote', 'Quote 2026-6-q1 from Alderbeck', 'Dear Agnes; [link] says all.');

INSERT INTO routes (id, order_id, position, changes) VALUES
    (1, 6, 1, '{"left_out": [], "order": ["weigh", "saw", "own-1"], "own": [{"does": ["polishes"], "key": "own-1", "minutes": 5.0, "name": "Photograph it; both sides", "solder": null, "text": ""}], "reworded": []}');
INSERT INTO bench_work (id, order_id, position, serial, operation, what, figure_um, figure_mg, minutes, then_operation, reason, undoes, record_before, at, user_id, maker) VALUES
    (1, 6, 1, 1, 'saw', 'done', 61000, NULL, 9, 'pattern', 'weighed later; no scales', NULL, NULL, '2026-11-13 15:00:00.000000', 2, 'Pavel'),
    (2, 6, 1, 2, 'pattern', 'done', 62000, NULL, NULL, '', '', NULL, '{"after_mm": null, "before_mm": null}', '2026-11-13 15:20:00.000000', 2, 'Pavel'),
    (3, 6, 1, 3, 'pattern', 'undone', NULL, NULL, NULL, '', '', 2, NULL, '2026-11-13 15:21:00.000000', NULL, 'a program'),
    (4, 6, 1, 4, 'weigh', 'noted', NULL, 9170, NULL, '', '', NULL, NULL, '2026-11-13 15:30:00.000000', 2, 'Pavel');

INSERT INTO pins (user_id, pin_hash, set_at) VALUES
    (2, '$argon2id$v=19$m=19456,t=2,p=1$c29tZXNhbHRzb21lc2FsdA$aHNoaGFzaGhhc2hoYXNoaGFzaGhhc2hoYXNoaGFzaA', '2026-11-13 08:00:00.000000');
INSERT INTO bench_devices (id, name, key_hash, user_id, created_at, maker_id, maker_seen_at, ended_at) VALUES
    (1, 'Tablet; by the window', '9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08', 2, '2026-11-13 08:01:00.000000', 2, '2026-11-13 09:01:00.000000', NULL),
    (2, 'An old one', '60303ae22b998861bce3b28f33eec1be758a213c86c93c076dbe9f558c11c752', 2, '2026-11-12 08:01:00.000000', NULL, NULL, '2026-11-13 08:01:00.000000');
INSERT INTO printers (id, name, paper, across_um, down_um, is_usual, version, changed_at) VALUES
    (1, 'Back room', 'A4', 97200, 100000, true, 2, '2026-11-14 09:00:00.000000'),
    (2, 'Counter; laser', 'Letter', 100000, 100000, false, 1, '2026-11-14 09:00:00.000000');
INSERT INTO supplies (id, supplier, alloy, kind, profile, thickness_um, least_width_um, width_step_um, length_step_um, least_length_um, most_length_um, least_mass_mg, least_charge_minor, lead_days, spare_days, note, is_dropped, version, user_id, changed_at) VALUES
    (1, 'Rill and Daughter', 'silver-925', 'strip', NULL, 1500, 3000, 1000, 10000, 50000, 500000, 20000, 1500, 3, 1, 'cut to width; ask for soft', false, 1, 2, '2026-11-13 15:00:00.000000');
INSERT INTO purchases (id, supplier, ordered_at, ordered_on, expected_on, currency, version, user_id, actor) VALUES
    (1, 'Rill and Daughter', '2026-11-13 15:05:00.000000', '2026-11-13', '2026-11-18', 'GBP', 2, 2, 'Pavel');
INSERT INTO purchase_lines (id, purchase_id, position, supply_id, state, kind, alloy, profile, length_um, width_um, thickness_um, mass_mg, cost_minor, rings, piece_id, arrived_mg, settled_at) VALUES
    (1, 1, 1, 1, 'arrived', 'strip', 'silver-925', NULL, 220000, 6000, 1500, 20513, 2100, '["2026-6/1"]', 2, 5850, '2026-11-13 16:00:00.000000'),
    (2, 1, 2, 1, 'ordered', 'strip', 'silver-925', NULL, 130000, 6000, 1500, 12121, NULL, '[]', NULL, NULL, NULL);
INSERT INTO refiner_lots (id, refiner, sent_on, kind, alloy, fineness, mass_mg, credited_bp, user_id, actor) VALUES
    (1, 'Crucible and Sons; north', '2026-11-13', 'clean scrap', 'silver-925', 925, 800, 9700, 2, 'Pavel');
INSERT INTO refiner_settlements (lot_id, settled_on, assay_fineness, paid_fine_mg, charges_minor, paid_minor, currency, note, user_id, actor) VALUES
    (1, '2026-11-20', 921, 710, 25, 40, 'GBP', 'assay by XRF; no fire assay', 2, 'Pavel');
INSERT INTO metal_ledger (id, at, on_day, what, source, target, alloy, mass_mg, owner_id, ring, operation, from_piece_id, to_piece_id, cut_id, lot_id, corrects_id, note, user_id, actor, hash) VALUES
    (1, '2026-11-13 16:00:00.000000', '2026-11-13', 'carried in', 'before the ledger', 'drawer', 'silver-925', 5850, NULL, '', '', NULL, 2, NULL, NULL, NULL, '', 2, 'Pavel', '9293f7aaff36cbea2944daff3026d4392977a777d8e59c46ccbb650435baf1c3'),
    (2, '2026-11-13 16:00:00.000000', '2026-11-13', 'to the refiner', 'scrap box', 'refiner', 'silver-925', 800, NULL, '', '', NULL, NULL, NULL, 1, NULL, 'a lot; small', 2, 'Pavel', '651cc814c27f50c9551d8c737f48d1ff85d99286ac419ffb96bc8c5e766f9c9b'),
    (3, '2026-11-13 16:00:00.000000', '2026-11-13', 'correction', 'refiner', 'scrap box', 'silver-925', 800, NULL, '', '', NULL, NULL, NULL, 1, 2, '', 2, 'Pavel', '64831b64991257b6968892ef03fc776f0c6f12f79a0999cde14cbf56910f63b5');
INSERT INTO places (id, name, is_dropped, version, user_id, changed_at) VALUES
    (1, 'Safe; tray 2', false, 1, 2, '2026-11-13 15:00:00.000000');
INSERT INTO place_moves (id, order_id, thing, place_id, at, user_id, actor) VALUES
    (1, 6, '2026-6/1', 1, '2026-11-13 15:10:00.000000', 2, 'Pavel'),
    (2, 6, '2026-6-r1/1', NULL, '2026-11-13 15:20:00.000000', NULL, 'a program');
INSERT INTO outworkers (id, name, trade, note, is_dropped, version, user_id, changed_at) VALUES
    (1, 'Hale', 'setter', 'two weeks; at least', false, 1, 2, '2026-11-13 15:00:00.000000');
INSERT INTO outwork (id, number, order_id, revision, outworker_id, worker, what, held_by, currency, value_minor, weight_out_mg, due_on, expected_minor, out_at, user_id, actor, frozen, back_at, back_by, back_user_id, weight_in_mg, cost_minor, condition) VALUES
    (1, '2026-6-w1', 6, 1, 1, 'Hale, setter', 'Set the stone; flush.', '', 'GBP', 12000, 4250, '2026-11-20', NULL, '2026-11-13 15:30:00.000000', 2, 'Pavel', '{"number": "2026-6-w1", "things": ["Ring 1"]}', NULL, NULL, NULL, NULL, NULL, '');
INSERT INTO outwork_things (id, outwork_id, thing, words, out) VALUES
    (1, 1, '2026-6/1', 'Ring 1', '2026-6/1');
INSERT INTO as_made (id, order_id, position, system, label, ordered_um, size_um, before_um, after_um, closed_um, issued_mg, finished_mg, lot, makers, handed_over_at, user_id) VALUES
    (1, 6, 1, 'uk', 'O', 56900, 56400, 60000, 61200, 57100, 9170, 8420, 'A-77; back half', 'Pavel', '2026-11-14 10:00:00.000000', 2);
INSERT INTO inscription_proofs (id, order_id, position, text, read_by, signed_at, user_id, actor) VALUES
    (1, 6, 1, 'Ada; Jón', 'Agnes Bell-Ferreira', '2026-11-13 12:00:00.000000', 2, 'Pavel');
INSERT INTO fit_answers (id, order_id, position, ring, profile, width_um, allowed_um, verdict, off_um, note, answered_at, user_id, actor) VALUES
    (1, 6, 1, '2026-6/1', 'flat', 6000, 500, 'loose', 600, 'turns; in the cold', '2026-12-05 10:00:00.000000', 2, 'Pavel');
INSERT INTO custody (id, at, on_day, what, order_id, document, good, line, weight_mg, value_minor, currency, condition, bag, user_id, actor, hash) VALUES
    (1, '2026-11-13 16:00:00.000000', '2026-11-13', 'taken in', 6, '2026-6-r1', '2026-6-r1/1', 'an old ring; thin, 2.14 g', 2140, 9000, 'GBP', 'worn', 'A-17', 2, 'Pavel', 'e9f1d22056296bd5c4f20426bc98662cecd2cefa3b4b9cedfc84d4239065e0bb');
INSERT INTO old_gold (id, bought_at, bought_on, keep_until, alloy, fineness, mass_mg, description, marks, tested, worth_minor, paid_minor, currency, method, movement_id, user_id, actor) VALUES
    (1, '2026-11-13 16:30:00.000000', '2026-11-13', '2029-11-13', 'gold-750-yellow', 748, 8420, 'a worn band; thin', '750', 'acid', 31000, 30000, 'GBP', 'bank transfer', 1, 2, 'Pavel');
INSERT INTO old_gold_sellers (old_gold_id, name, address, identity) VALUES
    (1, 'Hedda Lorne', '3 Quay Lane; Harbourtown', 'passport, ends 4471');
INSERT INTO old_gold_strikes (old_gold_id, struck_at, why, user_id, actor) VALUES
    (1, '2026-11-13 17:00:00.000000', 'weighed with its box; twice', 2, 'Pavel');
