"""Published bin packing instances, as held by BPPLIB, with their proven least number of bins.

Instances: Delorme, Iori, Martello, "BPPLIB: a library for bin packing and cutting stock problems",
Optimization Letters 12(2):235-250, 2018 (CSP files). Values: the table of BPPLIB's lower and upper bounds,
which agree for each of these.
"""

from dataclasses import dataclass


@dataclass(frozen=True)
class Published:
    """Pieces to be cut from bars of one length, and the least number of bars, which is proven."""

    source: str
    bar: int
    least: int
    pieces: tuple[tuple[int, int], ...]


def runs(text):
    """`(length, count)` pairs from a line such as "40 37x2": a length alone stands for one piece."""
    pairs = (word.split("x") for word in text.split())
    return tuple((int(pair[0]), int(pair[1]) if len(pair) > 1 else 1) for pair in pairs)


INSTANCES = {
    "N1C1W1_A": Published(
        source="Scholl, Klein, Juergens, Computers & Operations Research 24(7), 1997, set 1",
        bar=100,
        least=25,
        pieces=runs(
            """
            99x2 96x2 92x2 91 88 87 86 85 76 74 72 69 67x2 62 61 56 52 51 49 46 44 42 40x2 33x2
            30x2 29 28x2 27 25 24 23 22 21 20 17 14 13 11 10 7x2 3
            """
        ),
    ),
    "N1W2B1R3": Published(
        source="Scholl, Klein, Juergens 1997, set 2",
        bar=1000,
        least=11,
        pieces=runs(
            """
            239 238 237x2 235 234 233 232 231x2 230 228 224x2 222x2 221 220 218 216 214x2 210
            206 205 204 202x2 200 199 198x2 197x3 192 191 186 185 184x2 181 180 173x3 167 166
            165 164
            """
        ),
    ),
    "Falkenauer_u120_00": Published(
        source="Falkenauer, Journal of Heuristics 2, 1996, uniform",
        bar=150,
        least=48,
        pieces=runs(
            """
            98x3 96x2 94 93x2 92 91x2 90 87 86 85x2 84x5 83x2 82x2 81 80x3 79x2 78x4 76 74x2
            73x4 72 71 70x3 69x3 67 66 64 62x2 60x2 59 58x3 57x4 55x3 50 49x3 47 46x2 45x2 44x2
            43x4 42x5 41x3 39x2 38x3 37 36x3 35 33x3 32x2 30x3 29 28 27x2 26 25x2 24 23x2 20
            """
        ),
    ),
    "Falkenauer_t60_00": Published(
        source="Falkenauer 1996, triplets: no waste at all",
        bar=1000,
        least=20,
        pieces=runs(
            """
            495 474 473 472 466 450 445 444 439 430 419 414 410 395 372 370 366x3 363 361 357
            355 351 350x2 347 320 315 307 303 299 298x2 292 288 287 283 275x2 274 273x2 272x2
            271 269x2 268 263 262 261 259 258 255 254 252x3 251
            """
        ),
    ),
    "Schwerin1_BPP46": Published(
        source="Schwerin, Waescher, International Transactions in Operational Research 4(5-6), 1997, set 1",
        bar=1000,
        least=18,
        pieces=runs(
            """
            200x2 199x2 198 196x3 195x3 194 193x2 192 191x5 190 189x4 188 187 186 185x2 184x3
            183 182 181x2 180x2 179x2 178x2 177x2 176x3 175 174x3 173x3 172x7 171 169 167x7 166
            165 164 163x3 162x2 161 160 159 158 157x2 156x6 155 154x2 153 152x3 151 150
            """
        ),
    ),
    "Waescher_TEST0049": Published(
        source="Waescher, Gau, OR Spektrum 18, 1996",
        bar=10000,
        least=11,
        pieces=runs(
            """
            2472 2371x2 2027 2026 1962 1939x3 1864x3 1840 1743 1681x2 1639 1554 1542 1298 1280x3
            1260 1246x5 1230 1158 1146x4 1111x6 869x4 826x11 784x7 781x2 738 668x10 648x5 641x4
            588x2 502x3 499x3 465x6 392x5 390x3 293x3 231x3 199x3 118x9 98x5 88x5 67x2 32x4
            """
        ),
    ),
    "201_2500_NR_0": Published(
        source="Delorme, Iori, Martello, EJOR 255, 2016: one over the linear program",
        bar=2456,
        least=66,
        pieces=runs(
            """
            2206 2204 2198 2192 2188 2174 2158 2146 2132 2116 2114 2074 2062 2060 2058 2036 2014
            1974 1970 1964 1947 1940 1910 1907 1906 1891 1852 1849 1833 1830 1826 1823 1820 1780
            1734 1732 1727 1723 1719 1710 1701 1696 1694 1682 1660 1581 1574 1572 1569 1559 1558
            1536 1484 1426 1421 1410 1409 1396 1276 1238 1236 1231 1230 1229 1023 1022 1021 1020
            1018 988 980 976 874 873 863 862 840 812 750 749 741 740 738 731 730 692 668 646 638
            631 615 611 609 602 585 568 564 541 532 526 522 512 508 507 485 483 471 462 458 438
            436 412 406 384 370x2 356 332 330 322 286 284 280 276 272 262x2 254 248 238 228 220
            210 204x3 200x2 192 174 172x2 168 160 148x2 146 144x3 128x2 124x2 122x2 120x2 112
            104x3 100 96 94 88x4 82 80x4 72 64x4 60 56x2 48x5 44x2 40x2 36 32x2 28 26 16x4 4
            """
        ),
    ),
}
