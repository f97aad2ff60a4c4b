BEGIN TRANSACTION;
CREATE TABLE about (key TEXT PRIMARY KEY, value TEXT NOT NULL) WITHOUT ROWID;
INSERT INTO "about" VALUES('ended','"2026-11-26T03:40:55+00:00"');
INSERT INTO "about" VALUES('note','"Invented."');
INSERT INTO "about" VALUES('seconds','20');
INSERT INTO "about" VALUES('title','"Quays"');
INSERT INTO "about" VALUES('varies','["like", "dice"]');
CREATE TABLE answers (
    key TEXT PRIMARY KEY, status TEXT NOT NULL, kind TEXT, verdict TEXT, count TEXT, count_up_to_shift TEXT,
    count_is TEXT, engine TEXT, reason TEXT NOT NULL, bound TEXT, seconds REAL NOT NULL, taken_from TEXT
) WITHOUT ROWID;
INSERT INTO "answers" VALUES('4044310f4277102a2572fab09274a55a','answered','numbering','none','0','0','all','factors','No labels whatever can do it. Two cubes have 36 outcomes; the result 3 would need 36 × 1/64 = 9/16 of them, no whole number.',NULL,0.0009,NULL);
INSERT INTO "answers" VALUES('68e2d2274a8f3ec4ac9268e01cdfed1c','answered','numbering','none','0','0','all','factors','No labels whatever can do it. A tetrahedron (4 faces) and a 9-sided log have 36 outcomes; the result 3 would need 36 × 1/64 = 9/16 of them, no whole number.',NULL,0.0092,NULL);
INSERT INTO "answers" VALUES('84fc6ef353ae5bc564aad26289b1f453','answered','numbering','complete','2','2','all','factors','Two numberings do it. With whole numbers from 1 up on two cubes there are no others.',NULL,2.2267,NULL);
INSERT INTO "answers" VALUES('a50b78e38ee302e9c2107d4859fe451c','answered','numbering','complete','3','3','all','factors','Three numberings do it; the first 2 found are listed. With whole numbers from 1 up on a tetrahedron (4 faces) and a 9-sided log there are no others.',NULL,2.321,NULL);
CREATE TABLE designs (
    key TEXT NOT NULL, place INTEGER NOT NULL, id TEXT NOT NULL, distance TEXT, ordinary INTEGER NOT NULL,
    legible REAL, familiar REAL, readability REAL, cost REAL, overall REAL, form TEXT NOT NULL,
    PRIMARY KEY (key, place)
) WITHOUT ROWID;
INSERT INTO "designs" VALUES('84fc6ef353ae5bc564aad26289b1f453',1,'e00ef13e2d5c8dfe','0',1,100.0,100.0,100.0,1.3,100.0,'{"id": "e00ef13e2d5c8dfe", "dice": [{"faces": 6, "solid": "cube", "labels": [1, 2, 3, 4, 5, 6]}, {"faces": 6, "solid": "cube", "labels": [1, 2, 3, 4, 5, 6]}], "ordinary": true, "distance": "0"}');
INSERT INTO "designs" VALUES('84fc6ef353ae5bc564aad26289b1f453',2,'c77090b4103ac61b','0',0,100.0,80.0,88.0,1.8,83.0,'{"id": "c77090b4103ac61b", "dice": [{"faces": 6, "solid": "cube", "labels": [1, 2, 2, 3, 3, 4]}, {"faces": 6, "solid": "cube", "labels": [1, 3, 4, 5, 6, 8]}], "ordinary": false, "distance": "0"}');
INSERT INTO "designs" VALUES('a50b78e38ee302e9c2107d4859fe451c',1,'c40e398309487194','0',0,96.0,84.0,89.0,1.8,93.0,'{"id": "c40e398309487194", "dice": [{"faces": 4, "solid": "tetrahedron", "labels": [1, 2, 4, 5]}, {"faces": 9, "solid": "9-sided log", "labels": [1, 2, 3, 3, 4, 5, 5, 6, 7]}], "ordinary": false, "distance": "0"}');
INSERT INTO "designs" VALUES('a50b78e38ee302e9c2107d4859fe451c',2,'d7b729f5a770db25','0',0,93.0,77.0,83.0,1.8,89.0,'{"id": "d7b729f5a770db25", "dice": [{"faces": 4, "solid": "tetrahedron", "labels": [1, 2, 2, 3]}, {"faces": 9, "solid": "9-sided log", "labels": [1, 3, 3, 5, 5, 5, 7, 7, 9]}], "ordinary": false, "distance": "0"}');
CREATE TABLE questions (
    number INTEGER PRIMARY KEY, key TEXT NOT NULL, fingerprint TEXT NOT NULL, chosen TEXT NOT NULL, brief TEXT NOT NULL
);
INSERT INTO "questions" VALUES(1,'a50b78e38ee302e9c2107d4859fe451c','72e3bb17a6e27ab0da646c7419308e48046198d2e4d18def9ea32e48eb730b6a','[["like", "2d6"], ["dice", [4, 9]]]','title = "Quays: 2d6, 4 + 9"
read = "total"
like = "2d6"
dice = [4, 9]
');
INSERT INTO "questions" VALUES(2,'84fc6ef353ae5bc564aad26289b1f453','53aae8843bc1a0e799e2eec437870f454ee0acdf84b349dde09f5bd4f0b096a8','[["like", "2d6"], ["dice", [6, 6]]]','title = "Quays: 2d6, 6 + 6"
read = "total"
like = "2d6"
dice = [6, 6]
');
INSERT INTO "questions" VALUES(3,'a50b78e38ee302e9c2107d4859fe451c','72e3bb17a6e27ab0da646c7419308e48046198d2e4d18def9ea32e48eb730b6a','[["like", "d6 + d6"], ["dice", [4, 9]]]','title = "Quays: d6 + d6, 4 + 9"
read = "total"
like = "d6 + d6"
dice = [4, 9]
');
INSERT INTO "questions" VALUES(4,'84fc6ef353ae5bc564aad26289b1f453','53aae8843bc1a0e799e2eec437870f454ee0acdf84b349dde09f5bd4f0b096a8','[["like", "d6 + d6"], ["dice", [6, 6]]]','title = "Quays: d6 + d6, 6 + 6"
read = "total"
like = "d6 + d6"
dice = [6, 6]
');
INSERT INTO "questions" VALUES(5,'68e2d2274a8f3ec4ac9268e01cdfed1c','05511dc9bdc2ae731126ddaba5cb2f1122faf23645e5c22c678cbf6fb001ca24','[["like", "3d4"], ["dice", [4, 9]]]','title = "Quays: 3d4, 4 + 9"
read = "total"
like = "3d4"
dice = [4, 9]
');
INSERT INTO "questions" VALUES(6,'4044310f4277102a2572fab09274a55a','f032f31f37f26ab3f191bc2b96e20022ad504f1321138a99bc92a1f8becfd68f','[["like", "3d4"], ["dice", [6, 6]]]','title = "Quays: 3d4, 6 + 6"
read = "total"
like = "3d4"
dice = [6, 6]
');
CREATE INDEX questions_by_key ON questions (key);
CREATE INDEX designs_by_score ON designs (overall DESC);
CREATE VIEW products AS SELECT questions.number, questions.chosen, answers.verdict, answers.count, designs.*
    FROM questions JOIN answers USING (key) JOIN designs USING (key);
COMMIT;
PRAGMA user_version=1;
