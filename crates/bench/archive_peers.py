"""The figures over the archive, asked of DuckDB on the same Parquet files: seconds, and the answers to compare.

archive_peers.py RUNS FOLDER...
"""
import json
import sys
import time

import duckdb

POINT = "tyres"

COUNTS = """
    count(*) filter (where outcome = 'nothing entered'),
    count(*) filter (where outcome = 'examined'),
    count(*) filter (where outcome = 'not examined'),
    count(*) filter (where outcome = 'not fitted'),
    count(*) filter (where outcome = 'examined' and finding = 'confirmed'),
    count(*) filter (where outcome = 'examined' and finding = 'draft'),
    count(*) filter (where outcome = 'examined' and verdict = 'does not conform'),
    count(*) filter (where outcome = 'examined' and held <> '')
"""

QUESTIONS = {
    "every_point": "select point, null, null, null, {counts} from '{points}' group by point",
    # As little to do as possible: only the rows of the point meet the jobs.
    "groups": """
        select point, kind, age_band, region, {counts}
        from (select * from '{points}' where point = '{point}') join '{jobs}' using (job)
        group by point, kind, age_band, region
    """,
}


def main():
    runs, folders = int(sys.argv[1]), sys.argv[2:]
    answer = {"version": duckdb.__version__, "folders": {}}
    for folder in folders:
        files = {"jobs": f"{folder}/jobs.parquet", "points": f"{folder}/points.parquet"}
        connection = duckdb.connect()
        connection.execute("set threads = 1")
        of_folder = {
            name: connection.execute(f"select count(*) from '{file}'").fetchone()[0] for name, file in files.items()
        }
        for name, question in QUESTIONS.items():
            text = question.format(counts=COUNTS, point=POINT, **files)
            rows, best = None, float("inf")
            for _ in range(runs):
                # The processor's time, so that a busy machine does not count against either side.
                start = time.process_time()
                rows = connection.execute(text).fetchall()
                best = min(best, time.process_time() - start)
            of_folder[name] = {"seconds": best, "rows": [list(row) for row in rows]}
        answer["folders"][folder] = of_folder
    json.dump(answer, sys.stdout)


main()
