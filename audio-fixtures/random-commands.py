#!/usr/bin/env python3
"""Makes recordings by the hundred to measure on, with labels: random commands, rare names, and talk that isn't for us.

To install (Debian 12): what make.py needs, and RHVoice 1.8.0 with its English voices, from Debian's section `non-free`
(add it to the sources first). There it is only because the voices can't be trained again from what Debian has:

    apt-get install rhvoice rhvoice-english

To run, from anywhere; VENV is make.py's:

    VENV/bin/python random-commands.py --out DIR                # 150 random commands for each voice, seed 1
    VENV/bin/python random-commands.py --out DIR --count 50 --seed 2 --voices heart,slt
    VENV/bin/python random-commands.py --out DIR --rare         # names that aren't in goods.en.yaml, three times each
    VENV/bin/python random-commands.py --out DIR --other        # talk that isn't for the kitchen's stock
    VENV/bin/python random-commands.py --check TELLSHELF ...    # no sound: asks the program to read every text

Each voice has a folder with its own labels.json (rare names: three, `first`, `said` and `next`): text, voice, intent and slots by
file. Labels come from what the script chose to say and never from the recogniser. Goods are drawn evenly from all of
goods.en.yaml, each once before any comes again; dates are counted from 2026-11-25. Sound is framed as make.py's (16 kHz,
mono, peak 0.5). The same seed gives the same texts, and with the same versions the same sound.

RHVoice's other English voices, evgeniy-eng and lyubov, aren't used: they are CC BY-NC-ND 4.0.
"""
import argparse
import datetime
import fnmatch
import json
import multiprocessing
import pathlib
import random
import re
import subprocess
import tempfile

import make

TODAY = datetime.date(2026, 11, 25)
GOODS = make.HERE.parent / "grammars" / "goods.en.yaml"


def rhvoice(voice):
    def say(text, speed):
        with tempfile.TemporaryDirectory() as folder:
            path = pathlib.Path(folder) / "speech.wav"
            command = ["RHVoice-test", "-p", voice, "-r", str(round(100 * speed)), "-o", str(path)]
            subprocess.run(command, input=text.encode(), check=True, stdout=subprocess.DEVNULL)
            return make.read_wav(path)
    return say


VOICES = {name: say for name, say in make.VOICES.items() if name != "espeak-ko"}
VOICES |= {"bdl": rhvoice("bdl"), "clb": rhvoice("clb"), "alan": rhvoice("alan")}
RARE_VOICES = ["heart", "slt", "rms", "espeak-us", "bdl"]

# ---- what a person says of each thing ---------------------------------------------------------------------------------

# How names are measured: the first line with a pattern that fits a name holds. "each" is counted by itself; a size like
# "15 ounce can" is of one pack. A line may be for some sections only. An empty measure: always without a quantity.
MEASURES = """
    : canned *, tweezers, nail clippers
    each: baguette, cake, pie, coffee cake, cantaloupe, grapefruit, honeydew melon, pineapple, watermelon, lobster
    each: whole chicken, chicken pot pie, frozen pizza, pizza crust, pie crust, graham cracker crust, beef roast
    each: pot roast
    each: hot water bottle, thermometer, brooms, dish brushes, mop heads, combs, candles, pumpkins, coconuts
    bunch: asparagus, basil, chard, chives, cilantro, collard greens, dill, kale, mint, mustard greens, parsley, rosemary
    bunch: sage, tarragon, thyme, watercress, green onions, rhubarb, radishes, celery, bok choy
    each bunch pound: bananas, beets, carrots, leeks
    head: broccoli, cabbage, cauliflower, garlic, lettuce, radicchio, red cabbage, romaine lettuce, endive
    container pint: blackberries, blueberries, raspberries, strawberries, cherry tomatoes
    can can 15-ounce-can: chickpeas, black-eyed peas
    bag pound: grapes, *squash, baby *carrots, *sprouts, green beans, *peas, pea pods, dates, mixed greens, salad mix
    bag pound: okra
    bag pound: cherries, cranberries, arugula, *spinach, *mushrooms, passion fruit, jicama, kohlrabi, celery root
    pound: fennel, corn on the cob, ginger
    [produce] each each pound bag: *
    dozen each carton: eggs
    can 14-ounce-can: coconut milk, condensed milk, evaporated milk
    box package: dry milk
    [medicine] tube: *cream, *ointment, *gel
    [medicine] bottle: aspirin, ibuprofen, acetaminophen, *vitamin*, pain reliever, antacid, *alcohol, *peroxide
    [medicine] bottle: *solution
    [medicine] bottle: eye drops, nasal spray, witch hazel, laxative, *tablets, *capsules, *medicine, *drink, cough syrup
    can: shaving cream, hairspray, whipped cream
    tube: hand cream, diaper cream, hair gel, toothpaste, lip balm, sunscreen
    stick: deodorant
    tub pint carton: ice cream, frozen yogurt, sherbet, sorbet
    tub container: *yogurt, cottage cheese, ricotta cheese, mascarpone, sour cream, creme fraiche, pudding, hummus
    tub container: margarine
    tub container: guacamole, whipped topping, cookie dough, miso, salsa, lard
    carton pint: *cream, buttermilk, half-and-half, coffee creamer, egg whites, kefir
    carton quart gallon half-gallon-carton: *milk
    pound stick: butter, unsalted butter
    bag 8-ounce-bag: shredded cheese
    box package: macaroni and cheese
    [dairy, meat] package: cheese slices, tofu, tempeh, hot dogs, string cheese
    pound ounce package 8-ounce-block: *cheese, brie
    [meat, fish] pound package ounce: *
    package: flatbread, pita bread, shortbread
    loaf: *bread
    [bakery] each package dozen: bagels, doughnuts, croissants, muffins, cupcakes, scones, brownies, biscuits, rolls
    [bakery] package bag: *
    box pound package: *noodles, *macaroni, fettuccine, linguine, orzo, pasta, penne, rotini, spaghetti
    bag: trail mix, ice
    box package: *mix, couscous, ravioli, tortellini, farina, *cereal, *flakes, cornstarch, baking soda, gelatin
    [grains] bag cup pound 2-pound-bag: *
    can jar: olives, capers, artichoke hearts, roasted red peppers, sun-dried tomatoes, applesauce, sauerkraut, anchovies
    bag pound: dried beans, lentils, split peas
    [canned] can can 15-ounce-can: *
    bag cup pound 5-pound-bag: *flour, *sugar, cornmeal, masa, tapioca
    bottle teaspoon: *extract, vanilla, food coloring
    bottle cup: *syrup, molasses, honey
    bag cup: chocolate chips, white chocolate chips, coconut flakes, marshmallows, sprinkles
    can: frosting, shortening, baking powder, cocoa powder
    [baking] container box: *
    [spices] jar teaspoon tablespoon: *
    jar: petroleum jelly
    bottle: fish sauce, soy sauce, worcestershire sauce, hot sauce, oyster sauce, teriyaki sauce, hoisin sauce
    bottle: steak sauce
    jar 24-ounce-jar: *jam, *jelly, marmalade, *pickles, pickle relish, pickled ginger, *sauce, chutney, pesto, tahini
    jar 24-ounce-jar: gravy
    bottle: baby oil, body *, *shampoo, conditioner, mouthwash, hand s*, shower gel, bubble bath, *lotion, *remover
    roll: *foil, *paper, plastic wrap, paper towels, *tape, string
    [drinks] bottle carton: *juice
    bottle tablespoon 16-ounce-bottle: *oil, *vinegar, *dressing, ketchup, *mustard, mayonnaise, vinaigrette, tamari
    bottle tablespoon 16-ounce-bottle: *juice
    can: cooking spray, juice concentrate
    [condiments, oils] jar: *
    box: *bars, *crackers, popcorn, fruit snacks, toaster pastries, rice cakes, saltines
    bag bag package 12-ounce-bag: *nuts, *seeds, *chips, almonds, cashews, pecans, pistachios, raisins, prunes, pretzels
    jar: almond butter, apple butter, peanut butter, hazelnut spread
    [snacks] bag package: *
    [breakfast] box package: *
    [frozen] bag package box: *
    box: *tea, tea bags, hot chocolate, coffee pods, chai
    bag pound can: *coffee, coffee beans, espresso
    bottle: *wine, champagne, kombucha, *water, lemonade, apple cider, fruit punch
    [drinks] bottle can: *
    package box: bottle nipples, pacifiers, diapers, training pants, baby wipes, teething biscuits, bibs
    jar can: baby food, infant formula
    bag: *litter, dry * food, dog food, *treats, dog biscuits, bird seed, wood shavings, rawhide chews
    can: cat food, baby powder, scouring powder, talcum powder, furniture polish, disinfectant spray, oven cleaner
    [pet] container package: *
    package box: *sheets, *wipes, *pads, *cloths, sponges, rubber gloves, steel wool, vacuum bags, bar soap, *batteries
    box bottle: dishwasher detergent, laundry detergent, starch
    [cleaning] bottle: *
    box package: *
"""
NOT_PLURAL = {"asparagus", "couscous", "floss", "hummus", "molasses", "octopus", "watercress"}
SECTION_PLACES = {
    "pantry cupboard shelf": "grains canned baking spices condiments oils snacks breakfast",
    "fridge refrigerator": "dairy", "freezer": "frozen", "fridge freezer": "meat fish", "pantry fridge": "drinks",
    "fridge fridge pantry counter": "produce", "bread-box counter freezer": "bakery", "closet cabinet bathroom": "baby",
    "closet garage": "cleaning", "pantry garage": "pet", "drawer closet top-shelf": "paper", "bathroom closet": "bath",
    "medicine-cabinet bathroom": "medicine",
}
PLACES = {place: key.split() for key, sections in SECTION_PLACES.items() for place in sections.split()}
FRESH = {"produce", "dairy", "meat", "fish", "bakery"}
UNDATED = {"cleaning", "paper", "bath"}
NUMBERS = dict(zip("one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen "
                   "seventeen eighteen nineteen twenty".split(), range(1, 21))) | {"twenty four": 24}
WORDS = {number: word for word, number in NUMBERS.items()}
AMOUNTS = {
    "pound": ["half a:0.5", "a:1", "one:1", "two:2", "three:3", "five:5", "one and a half:1.5", "two and a half:2.5"],
    "ounce": ["four:4", "six:6", "eight:8", "ten:10", "twelve:12", "sixteen:16", "twenty four:24"],
    "cup": ["half a:0.5", "a:1", "two:2", "three:3", "three quarters of a:0.75", "one and a half:1.5"],
    "teaspoon": ["half a:0.5", "a:1", "two:2", "three:3"], "tablespoon": ["a:1", "two:2", "three:3", "four:4"],
    "quart": ["a:1", "two:2", "three:3"], "gallon": ["half a:0.5", "a:1", "one:1", "two:2"], "pint": ["a:1", "two:2"],
}
MONTHS = "January February March April May June July August September October November December".split()
DAYS = "Monday Tuesday Wednesday Thursday Friday Saturday Sunday".split()
ORDINALS = ("first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth thirteenth fourteenth "
            "fifteenth sixteenth seventeenth eighteenth nineteenth twentieth").split()
ORDINALS += [f"twenty {one}" for one in ORDINALS[:9]] + ["thirtieth", "thirty first"]


def read_goods():
    """-> [(name as listed, section)]"""
    goods, section = [], None
    for line in GOODS.read_text(encoding="utf-8").splitlines():
        if found := re.fullmatch(r"  (\w+):", line):
            section = found[1]
        elif found := re.fullmatch(r"    - \[?([^,\]]+).*", line):
            goods.append((found[1], section))
    return goods


def measures(name, section):
    for line in MEASURES.strip().splitlines():
        which, patterns = line.strip().split(":")
        sections = re.match(r"\[(.*)\] ", which)
        if sections and section not in sections[1].split(", "):
            continue
        if any(fnmatch.fnmatchcase(name, p.strip()) for p in patterns.split(",")):
            return which[sections.end() if sections else 0:].split()
    raise ValueError(name)


def is_plural(name):
    return name.endswith("s") and name.split()[-1] not in NOT_PLURAL


def one_of(name):
    """The singular of a name that is counted."""
    if not is_plural(name):
        return name
    for ending, single in (("ookies", "ookie"), ("rownies", "rownie"), ("ies", "y"), ("oes", "o"), ("ches", "ch"),
                           ("shes", "sh"), ("sses", "ss"), ("s", "")):
        if name.endswith(ending):
            return name[:-len(ending)] + single


def many_of(name):
    return name if is_plural(name) else name + ("es" if name.endswith("ch") else "s")


def many_packs(pack):
    return {"loaf": "loaves", "box": "boxes", "bunch": "bunches"}.get(pack, pack + "s")


def a(words):
    return ("an " if words[0] in "aeiou" else "a ") + words


# ---- sentences --------------------------------------------------------------------------------------------------------

# Of each intent its sentences, each with how often it is said. {qty} "two cans of corn", {the} "the corn", {name} "corn"
FORMS = """
    put-in: 6 Add {qty} {to} / 5 Put {qty} {in} / 4 Add {qty} {to}, {date} / 3 Put {qty} {in}, {date}
    put-in: 2 Put {the} {in} / 3 I bought {qty} / 2 We bought {qty}, {date} / 3 There {be} {qty} {in}
    used-up: 4 I used up {the} / 2 We finished {the} / 3 {The} {is} all gone / 2 {The} {is} gone
    used-up: 2 There's no more {name} / 2 I threw away {the} / 1 I used the last of {the}
    used-up: 1 There {is} no {name} left
    use: 7 I used {qty} / 2 We used {qty} / 2 I threw away {qty}
    list-add: 4 Put {name} on the list / 4 Add {name} to the shopping list / 3 Add {qty} to the grocery list
    list-add: 3 We need {name} / 2 I need to buy {qty} / 1 We need more {name} / 2 Remind me to buy {name}
    list-drop: 3 Take {the} off the list / 2 Remove {the} from the shopping list
    list-read: 1 Read me the grocery list / 1 What's on the shopping list? / 1 What's left on the list?
    list-read: 1 What do we need to buy?
    got: 2 I got {the} / 2 Got {the} / 1 Tick off {the} / 1 Check {the} off the list / 1 Cross off {the}
    expires: 1 What expires {span}? / 1 What's going bad {span}? / 1 Is anything expiring {span}?
    expires: 2 What expires by {day}?
    use-first: 1 What should I use first? / 1 What should we eat first?
    when: 3 When {does} {the} expire? / 1 When will {the} go bad? / 3 What's the date on {the}?
    when: 2 {Is} {the} still good? / 1 {Has} {the} expired?
    low: 1 What is running low? / 1 What are we running out of?
    keep: 2 Always keep {qty} in the house / 2 Keep at least {qty}
    tag-new: 4 New tag for {qty}, {date} / 4 Temporary tag: {qty}, {date} / 2 Temporary tag for {qty}
    tags-read: 1 Read the tags
    tag-read: 1 Read tag {tag} / 1 What's on tag number {tag}?
    put-away: 4 Put away {the} {in} / 2 Put {the} away {in} / 1 Put tag {tag} {in} / 1 Tag {tag} goes {in}
    place-read: 1 What's {in}? / 1 What do we have {in}?
    where: 4 Where {is} {the}? / 2 Where did I put {the}? / 2 Where do we keep {the}? / 1 Find {the}
    how-much: 4 How {much} {is} left? / 3 How {much} do we have? / 2 How many {packs} are left?
    how-much: 2 Do we have any {name} left? / 2 {Is} there any {name} left?
    undo: 1 Undo that / 1 Take that back
    repeat: 1 Say that again
    help: 1 What can I say?
"""
FORMS = [(int(weight), intent, text)
         for intent, texts in (line.strip().split(": ", 1) for line in FORMS.strip().splitlines())
         for weight, text in (text.split(" ", 1) for text in texts.split(" / "))]


class Unfit(Exception):
    """This sentence isn't said of this thing."""


class Words(dict):
    """The words of a sentence, chosen when the sentence asks for them; their meaning is in `slots`."""

    def __init__(self, rng, name, section, intent):
        super().__init__()
        self.rng, self.item, self.section, self.intent, self.slots = rng, name, section, intent, {}
        self.kinds, self.one = measures(name, section), False
        self.single = "each" in self.kinds and not is_plural(name)
        if section in UNDATED and intent == "when":
            raise Unfit

    def __missing__(self, key):
        value = getattr(self, "say_" + key.lower())()
        return value[0].upper() + value[1:] if key[0].isupper() else value

    def say_name(self):
        if self.single:
            raise Unfit
        self.slots["item"] = self.item
        return self.item

    def say_the(self):
        self.slots["item"] = self.item
        return "the " + self.item

    def say_qty(self):
        rng, using = self.rng, self.intent == "use"
        kinds = [k for k in self.kinds if using or k not in ("cup", "teaspoon", "tablespoon")]
        if not kinds:
            raise Unfit
        kind = rng.choice(kinds)
        self.slots["quantity"], words, self.one = self.measure(kind, using)
        self.slots["item"] = self.item
        return words

    def measure(self, kind, using):
        """-> (slot, words, whether it is one)"""
        rng, name = self.rng, self.item
        if kind == "each":
            many = self.section in ("produce", "dairy") and not self.single
            n = rng.choice(range(1, 11) if many else [1, 1, 2, 2, 3, 4])
            if n == 1:
                return quantity(1), "one " + one_of(name), True
            words = "a couple of" if n == 2 and rng.random() < 0.15 else WORDS[n]
            return quantity(n), f"{words} {many_of(name)}", False
        if kind == "dozen":
            words, n = rng.choice([("a dozen", 12), ("half a dozen", 6), ("two dozen", 24)])
            return quantity(n), f"{words} {name}", False
        if kind in AMOUNTS:
            words, n = rng.choice(AMOUNTS[kind]).split(":")
            one = words.split()[-1] in ("a", "one")
            return quantity(None, float(n), kind), f"{words} {kind if one else kind + 's'} of {name}", one
        *size, pack = kind.rsplit("-", 2) if "-" in kind else [kind]
        n = rng.choice([1, 1, 1, 2, 2, 3, 4, 5, 6])
        if size:                                             # "two fifteen ounce cans of"
            number, unit = size
            amount, number = (0.5, "half") if number == "half" else (int(number), WORDS[int(number)])
            words = f"{number} {unit} {pack if n == 1 else many_packs(pack)}"
            words = a(words) if n == 1 else f"{WORDS[n]} {words}"
            return quantity(n, amount, unit), f"{words} of {name}", n == 1
        if using and pack in ("bag", "box", "can", "jar", "bottle", "carton", "package") and rng.random() < 0.2:
            return quantity(0.5, None, pack), f"half {a(pack)} of {name}", True
        words = f"{WORDS[n]} {many_packs(pack)}" if n > 1 else rng.choice([a(pack), "one " + pack])
        return quantity(n, None, pack), f"{words} of {name}", n == 1

    def say_be(self):
        """Of the quantity that comes after it."""
        self["qty"] = self.say_qty()
        return "is" if self.one else "are"

    def say_is(self):
        return "are" if is_plural(self.item) else "is"

    def say_does(self):
        return "do" if is_plural(self.item) else "does"

    def say_has(self):
        return "have" if is_plural(self.item) else "has"

    def say_much(self):
        return ("many " if is_plural(self.item) else "much ") + self.say_name()

    def say_packs(self):
        other = ("each", "dozen", "teaspoon", "tablespoon", "cup", "stick")
        packs = [kind for kind in self.kinds if kind not in other and "-" not in kind]
        if not packs:
            raise Unfit
        return f"{many_packs(self.rng.choice(packs))} of {self.say_name()}"

    def place(self, enclosed, on):
        choice = PLACES[self.section] if "item" in self.slots else ["fridge", "freezer", "pantry", "cupboard", "cellar"]
        place = self.rng.choice(choice).replace("-", " ")
        self.slots["place"] = {"refrigerator": "fridge", "cabinet": "cupboard"}.get(place, place)
        return f"{on if place in ('counter', 'shelf', 'top shelf') else enclosed} the {place}"

    def say_in(self):
        return self.place("in", "on")

    def say_to(self):
        return self.place("to", "to")

    def say_tag(self):
        word, self.slots["tag"] = self.rng.choice(list(NUMBERS.items()))
        return word

    def say_span(self):
        self.slots["span"] = self.rng.choice(["today", "tomorrow", "this week", "next week", "this month"])
        return self.slots["span"]

    def say_date(self):
        if self.section in UNDATED:
            raise Unfit
        kind = self.rng.choice(["use by", "use by", "best by", "best by", "best before", "sell by"])
        return f"{kind} {self.day({'best before': 'best by'}.get(kind, kind), far=self.section not in FRESH)}"

    def say_day(self):
        return self.day(None, far=False)

    def day(self, kind, far):
        rng, sort = self.rng, self.rng.random()
        day = TODAY + datetime.timedelta(rng.randint(2, 240 if far else 40))
        words = f"{MONTHS[day.month - 1]} {ORDINALS[day.day - 1]}"
        if sort < 0.15:
            day, words = TODAY + datetime.timedelta(1), "tomorrow"
        elif sort < 0.3:
            day = TODAY + datetime.timedelta(rng.randint(1, 6))
            words = DAYS[day.weekday()]
        elif far and sort < 0.5:                             # a month with its year is its last day
            month, tens = rng.randint(1, 12), rng.choice(["seven", "eight"])
            year = 2020 + NUMBERS[tens]
            day = datetime.date(year + month // 12, month % 12 + 1, 1) - datetime.timedelta(1)
            words = f"{MONTHS[month - 1]} twenty twenty {tens}"
        elif sort < 0.6:
            words = f"the {ORDINALS[day.day - 1]} of {MONTHS[day.month - 1]}"
        self.slots["date"] = {"kind": kind, "date": day.isoformat()}
        return words


def quantity(count, amount=None, unit=None):
    whole = [int(n) if n is not None and n == int(n) else n for n in (count, amount)]
    return {"count": whole[0], "amount": whole[1], "unit": unit}


def commands(voice, count, seed):
    """-> [(text, text, intent, slots)], all different"""
    rng, goods, found = random.Random(f"{seed} {voice}"), [], {}
    while len(found) < count:
        goods = goods or rng.sample(read_goods(), len(read_goods()))
        _, intent, form = rng.choices(FORMS, [weight for weight, *_ in FORMS])[0]
        with_item = re.search(r"\{(qty|the|The|name|much|packs)\}", form)
        name, section = goods[-1]
        try:
            words = Words(rng, name, section, intent)
            text = form.format_map(words)
        except Unfit:
            continue
        if text not in found:
            found[text] = (text, text, intent, words.slots)
            if with_item:
                goods.pop()
    return list(found.values())


# ---- rare names, and other talk ---------------------------------------------------------------------------------------

# Real foods that are not in goods.en.yaml, nor close to one of its names by sound.
RARE = """
    freekeh, zaatar, amchur, gochugaru, sumac, fonio, dulse, furikake, togarashi, ponzu, harissa, berbere, labneh,
    halloumi, injera, lavash, baklava, gnocchi, pancetta, mortadella, biltong, rambutans, kumquats, nopales, epazote,
    chayote, galangal, annatto, rooibos, spirulina, natto, sambal oelek, curry leaves, rose water, agave nectar,
    juniper berries, star fruit, lotus root, yerba mate, hemp hearts
"""
RARE = [name.strip() for name in RARE.split(",")]
RARE_PACKS = {"ponzu": "bottle", "rose water": "bottle", "agave nectar": "bottle"} | dict.fromkeys(
    ["harissa", "sambal oelek"], "jar")


def rare(voice):
    """-> the same names in three lists: each put on the shopping list, each as what was said, if that was
    taken for something else, and each in another sentence"""
    said = [(name, f"No, I said {name}", "correct", {"item": name}) for name in RARE]
    first = [(name, f"Put {name} on the list", "list-add", {"item": name}) for name in RARE]
    following = []
    for at, name in enumerate(RARE, RARE_VOICES.index(voice)):
        is_, much = ("are", "many") if name.endswith("s") and name != "rooibos" else ("is", "much")
        pack = RARE_PACKS.get(name, "bag")
        text, intent, more = [
            (f"Where {is_} the {name}?", "where", {}),
            (f"I used up the {name}", "used-up", {}),
            (f"Add two {pack}s of {name} to the pantry", "put-in",
             {"quantity": quantity(2, None, pack), "place": "pantry"}),
            (f"Take the {name} off the list", "list-drop", {}),
            (f"How {much} {name} {is_} left?", "how-much", {}),
        ][at % 5]
        following.append((name, text, intent, {"item": name, **more}))
    return {"first": first, "said": said, "next": following}


# To other devices and people, on the telephone, from the radio and from cookery books; each is spoken by three voices.
OTHER = """
    Turn on the kitchen light / Turn off the radio in the hall / Set a timer for twelve minutes /
    Set the oven to three hundred and fifty degrees / Play some quiet piano music / Turn the volume down a little /
    Call my sister on her mobile / Skip this song / What's the weather like tomorrow morning? /
    Dim the lights in the living room / Lock the front door / Wake me up at six thirty /
    Turn the heating up two degrees / How long is left on the timer? / Send a message to Daniel that I am running late /
    Stop the music / Pause the film, I can't hear you / Start the robot in the bedroom /
    What time is the next bus to the station? / Open the blinds / Did you feed the cat this morning? /
    Can you pass me the salt? / Mind the step, the floor is still wet / Who left the gate open again? /
    Don't touch that, it's very hot / Come and sit down, dinner is ready / Wash your hands before you eat /
    Please close the window, there's a draft / Have you done your homework yet? / Take your shoes off at the door /
    Could you hold this bowl for a second? / Give the dog a little water / Stir it slowly so that it doesn't burn /
    Watch your fingers with that knife / Turn it over when the edges go brown / Hand me the wooden spoon, would you? /
    Let your brother have a turn / Move over, I can't get to the sink / Taste this and tell me if it's too sweet /
    Go and ask your father whether he's coming / Leave some for the others / Don't slam the door like that /
    Be careful, the pan handle is loose / Sit up straight and finish your plate / Shall we eat outside tonight? /
    Would you mind setting the table for five? / That smells wonderful, what is it? /
    I think the neighbors are having a party / You look tired, did you sleep badly? /
    My knee has been hurting since Sunday / We should paint this wall a lighter color /
    I can't remember where I parked the car / She said she would be here by noon / He never listens to a word I say /
    It was raining so hard that we turned back / The children were asleep before eight /
    I have to leave for work in ten minutes / Your mother called while you were out /
    Somebody is at the door, can you see who it is? / I love this song, leave it on /
    It's a shame they closed that little restaurant by the river /
    The train was forty minutes late and nobody told us why / I dreamed that we moved into a house with no doors /
    Remember when the whole street lost power for three days? / You always say that and then you change your mind /
    Well, I suppose we could try again on Saturday / No, the other one, the one with the blue lid /
    That was the best meal I've had in years / We never did find out who sent those flowers /
    I told you it would be too spicy for the kids / Everybody at the office has the same cold /
    He's learning to play the guitar and it's driving me mad / They want eight hundred dollars for a used sofa /
    Her new job starts on the first of the month / I don't know, it just tastes a bit flat to me /
    The dishwasher is making that noise again / I burned my hand on the kettle yesterday /
    You can't leave it soaking for a whole week / There's a spider on the ceiling, right above you /
    I read that coffee is good for you again this year / Hello, yes, this is she speaking /
    Sorry, could you speak up, the line is bad / No, he isn't home at the moment, may I take a message? /
    I'm calling about the appointment on Thursday afternoon / Yes, I can hold /
    My account number ends in four seven two / Is that the earliest you can come? /
    The washing machine stopped in the middle of a cycle /
    I'll call you back in five minutes, I've got something on the stove /
    Could you spell your last name for me, please? / We've been waiting for the delivery since nine this morning /
    Thanks for calling, say hello to the kids / I'm in the kitchen, can you hear the water running? /
    Did the doctor say anything about the results? / Okay, love you too, bye / I think you have the wrong number /
    Let me find a pen, hang on a second / The address is forty two Maple Street, second floor /
    So what did she say when you told her? / You're breaking up, I'll go to the other room /
    I would like to change my booking to the following week / Can you hear me now? /
    Happy birthday, how does it feel to be forty? / No, we're not interested, thank you /
    Tell him that the plumber is coming at three / I'll put you on speaker because my hands are wet /
    What time does your flight land? / It rang twice and then it went dead /
    Give my regards to your aunt when you see her / I got your message, but I couldn't open the picture /
    We can pick you up from the airport if you like / He broke his arm falling off a ladder /
    Don't worry about it, these things happen / I have another call coming in / Let's talk about it when you get here /
    Good morning, it's seven o'clock and here are the headlines /
    The city council voted last night to close two libraries / Heavy snow is expected in the mountains by the weekend /
    Traffic is slow on the northern bridge after an earlier accident /
    The prime minister will meet union leaders on Monday / Cloudy this afternoon with a high of fifty four degrees /
    In sports, the home team lost in extra time / Farmers say that the dry summer has cut the wheat harvest by a third /
    Police are asking anyone who saw the fire to come forward /
    The price of eggs rose nine percent in October, the bureau said /
    Scientists have found a new kind of frog in the rain forest /
    Stay with us, we'll be right back after this short break /
    Winds from the west at fifteen miles an hour, easing overnight / The strike has now entered its third week /
    And now the concert that was recorded last month in Vienna / Shares fell sharply in early trading on Tuesday /
    Thousands of people marched through the capital on Saturday /
    Our next guest has written a book about the history of bread /
    The museum will stay open late every Friday in December / Forecasters warn of icy roads in the early morning /
    A recall has been announced for two brands of frozen spinach /
    The river is expected to peak at midnight and fall slowly after that /
    Tonight's lottery numbers are four, nineteen, twenty three and thirty one /
    The new tunnel will cut the journey by half an hour / Schools in the county will stay closed for a second day /
    Researchers followed nine thousand people for more than twenty years /
    You are listening to the evening program with me until ten /
    The fishing fleet stayed in the harbor because of the storm / A spokeswoman declined to say how many jobs would go /
    It has been the warmest November since records began /
    Coming up, a chef who cooks only with what she finds in the woods / The orchestra has named a new conductor /
    Temperatures will drop below freezing after dark / Voters go to the polls in eleven days /
    The rescue took six hours and everyone is safe / First, bring a large pot of salted water to the boil /
    Fold the egg whites gently into the batter / Simmer uncovered until the liquid has reduced by half /
    Season the lamb generously and let it rest for an hour /
    Whisk the yolks with the sugar until they are pale and thick /
    Meanwhile, toast the nuts in a dry pan over a low heat / Cover the dough with a damp cloth and leave it to rise /
    Roast for forty minutes, or until the juices run clear / Slice the onions as thinly as you can /
    Rub the butter into the flour with the tips of your fingers / The secret of a good soup is patience /
    Pour the sauce over the noodles and serve at once / You can make this the day before and keep it chilled /
    Chop the herbs finely, stalks and all / Brush the pastry with milk for a golden crust /
    Melt the chocolate over hot water, never over the flame / Drain the beans, but save a little of the water /
    If the mixture looks too dry, loosen it with a splash of cream /
    This dish comes from the south, where they grow the best lemons / Serves four as a main course or six as a starter /
    My grandmother made it with goose fat and a pinch of nutmeg / Never wash mushrooms, just wipe them with a cloth /
    A pinch of salt makes the caramel taste less sweet / Knead for ten minutes, until the dough feels like an earlobe /
    Deglaze the pan with a glass of white wine / They say you should always cook pasta in sea water /
    Too much garlic and you won't taste anything else / Let the roast cool before you carve it /
    The crust should sound hollow when you knock on it / In our village nobody would eat fish on a Monday /
    So I said to him, that's not how you hold a hammer / What a mess, who was supposed to clean up here? /
    Oh no, I think I left the iron on / Wait, wait, let me get the camera / Are you sure that's the right way round? /
    How was school today? / Guess who I met at the market / I'm so full that I can't move /
    Shut the door, you're letting the heat out / Come here, kitty, come here / Good boy, now sit /
    Ouch, that was my foot / One, two, three, lift / What on earth is that smell? / Not now, I'm trying to think /
    Is it just me, or is it cold in here? / You've got flour on your nose / Why is the sink full again? /
    Ten more minutes and then it's bedtime / Let's get a takeaway, I'm too tired to cook /
    Where on earth have you been? / I'll be there in a minute / Happy anniversary, my love /
    Ask her if she wants milk in her tea / We were going to have soup, but the power went out /
    You would not believe how much they charge for cheese there / I wish somebody would invent a quiet blender /
    He ate all the cookies and blamed the dog / Nobody in this family likes mushrooms except me /
    My uncle used to keep bees behind the garage
"""
OTHER = [" ".join(line.split()) for line in OTHER.split(" /")]


def other(voices):
    """-> {voice: [line]}"""
    said = {voice: [] for voice in voices}
    for at, text in enumerate(OTHER):
        for voice in random.Random(f"other {at}").sample(voices, min(3, len(voices))):
            said[voice].append((text, text, None, {}))
    return said


# ---- all of it --------------------------------------------------------------------------------------------------------

def plan(ask):
    """-> [(voice, folder, [(what the file is named for, text, intent, slots)])]"""
    if ask.rare:
        return [(v, ask.out / v / part, lines) for v in ask.voices for part, lines in rare(v).items()]
    if ask.other:
        return [(v, ask.out / v, lines) for v, lines in other(ask.voices).items()]
    return [(v, ask.out / v, commands(v, ask.count, ask.seed)) for v in ask.voices]


def record(voice, folder, lines):
    labels = {}
    for at, (what, text, intent, slots) in enumerate(lines, 1):
        slug = re.sub(r"[^a-z0-9]+", "-", what.lower().replace("'", ""))[:60].strip("-")
        name = f"{at:03}-{slug}.wav"
        labels[name] = {"text": text, "voice": voice, "intent": intent, "slots": slots}
        sound, rate = VOICES[voice](text, 1.0)
        make.write_wav(folder / name, make.frame(make.resample(sound, rate), 0.3, 0.7))
    rows = ",\n".join(f"{json.dumps(k)}: {json.dumps(v, ensure_ascii=False)}" for k, v in labels.items())
    (folder / "labels.json").write_text("{\n" + rows + "\n}\n", encoding="utf-8")


def check(program, lines):
    """Says which texts the program reads otherwise than they are labelled."""
    wrong = 0
    for start in range(0, len(lines), 200):
        part = lines[start:start + 200]
        texts = [word for _, text, *_ in part for word in ("--text", text)]
        command = [program, "understand", "--json", "--at", f"{TODAY}T10:00", *texts]
        answers = subprocess.run(command, check=True, capture_output=True, text=True).stdout.splitlines()
        for (_, text, intent, slots), answer in zip(part, map(json.loads, answers), strict=True):
            if (answer.get("intent"), answer.get("slots") or {}) != (intent, slots):
                wrong += 1
                print(f"{text}\n    label {intent} {json.dumps(slots)}\n    read  {answer.get('intent')} "
                      f"{json.dumps(answer.get('slots'))} {answer['verdict']}")
    print(f"{len(lines)} texts, {wrong} read otherwise")


def main():
    ask = argparse.ArgumentParser(description="Makes labelled recordings of random commands, rare names, or other talk.")
    ask.add_argument("--out", type=pathlib.Path, default=pathlib.Path("."))
    ask.add_argument("--count", type=int, default=150, help="commands for each voice")
    ask.add_argument("--seed", type=int, default=1)
    ask.add_argument("--voices", type=lambda names: names.split(","), help="names with commas between them")
    ask.add_argument("--check", metavar="TELLSHELF", help="make no sound; compare labels with what this program reads")
    which = ask.add_mutually_exclusive_group()
    which.add_argument("--rare", action="store_true", help="names that aren't in goods.en.yaml")
    which.add_argument("--other", action="store_true", help="talk that isn't for us")
    ask = ask.parse_args()
    ask.voices = ask.voices or (RARE_VOICES if ask.rare else list(VOICES))
    planned = plan(ask)
    if ask.check:
        return check(ask.check, [line for *_, lines in planned for line in lines])
    with multiprocessing.Pool(2) as pool:
        pool.starmap(record, planned, chunksize=1)


if __name__ == "__main__":
    main()
