"""Invented vehicle identification numbers, valid and broken, with two libraries' verdicts on the check digit."""

import csv
import random

import ultravin
from vininfo import Vin
from vininfo.exceptions import ValidationError

LETTERS = "0123456789ABCDEFGHJKLMNPRSTUVWXYZ"
YEARS = "ABCDEFGHJKLMNPRSTVWXY123456789"
DIGITS = "0123456789X"


def checks(number):
    return Vin(number).verify_checksum(check_year=False)


def expected(number):
    fitting = [digit for digit in DIGITS if checks(number[:8] + digit + number[9:])]
    assert len(fitting) == 1, number
    return fitting[0]


def invented(chance):
    front = "".join(chance.choices(LETTERS, k=8))
    plant = "".join(chance.choices(LETTERS, k=2))
    # Position 13 too: ultravin rejects a letter there for makers of cars and light trucks.
    sequence = "".join(chance.choices("0123456789", k=5))
    return front + chance.choice(DIGITS) + chance.choice(YEARS) + plant + sequence


def broken(chance, number):
    at = chance.choice([place for place in range(17) if place != 9])
    allowed = "0123456789" if at > 11 else DIGITS if at == 8 else LETTERS
    return number[:at] + chance.choice(allowed) + number[at + 1 :]


def refused(number):
    try:
        Vin(number)
    except ValidationError:
        return True
    return False


def main():
    chance = random.Random(565)
    rows = []
    for turn in range(2200):
        number = invented(chance)
        digit = expected(number)
        number = number[:8] + digit + number[9:]
        if turn % 2:
            number = broken(chance, number)
            digit = expected(number)
        verdict = checks(number)
        assert ultravin.decode(number)["check_digit_valid"] == verdict, number
        rows.append((number, "yes" if verdict else "no", digit))
    for _ in range(200):
        number = invented(chance)
        at = chance.randrange(17)
        if chance.random() < 0.5:
            number = number[:at] + chance.choice("IOQ*.") + number[at + 1 :]
        else:
            number = number[: chance.randrange(5, 17)]
        assert refused(number), number
        rows.append((number, "refused", ""))
    with open("numbers.csv", "w", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["number", "verdict", "expected"])
        writer.writerows(rows)


if __name__ == "__main__":
    main()
