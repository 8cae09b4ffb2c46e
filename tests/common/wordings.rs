//! What people say for each intent of the grammar.

/// The intent, and its wordings in words of everyday.
pub const WORDINGS: &[(&str, &[&str])] = &[
    (
        "put-in",
        &[
            "add two bags of lentils to the pantry",
            "put a carton of milk in the fridge, use by December third",
            "I put two sticks of butter in the fridge",
            "I bought three cans of beans",
            "please add some flour to the pantry",
        ],
    ),
    (
        "have",
        &[
            "we have four eggs in the fridge",
            "there are three apples on the counter",
            "I have two cans of beans",
            "a jar of jam is in the fridge",
        ],
    ),
    (
        "is-there",
        &[
            "the eggs are in the fridge",
            "flour is in the pantry",
            "my bread is on the counter",
            "those lentils are on the top shelf",
        ],
    ),
    (
        "store-note",
        &[
            "in my store dairy comes before produce",
            "produce comes first",
            "frozen comes last",
            "in the store the bakery is after the drinks",
            "in my store paper goods come behind the pet section",
        ],
    ),
    (
        "store-read",
        &["what is the order of my store", "what order is my store in"],
    ),
    ("store-forget", &["forget the order of my store"]),
    (
        "used-up",
        &[
            "I finished the open milk",
            "I used up the beans in the pantry",
            "the last apple is gone",
            "I used up the oats",
            "we've finished the rice",
            "the sugar is gone",
            "the lentils are all gone",
            "there's no more coffee",
            "no more butter",
            "I used the last of the milk",
            "I threw away the yogurt",
            "there are no eggs left",
        ],
    ),
    (
        "thrown-out",
        &[
            "I threw out the eggs",
            "throw out the milk",
            "I threw the ham out",
        ],
    ),
    (
        "use",
        &[
            "I used a can of tuna from the pantry",
            "I ate two of them",
            "I finished a bag of rice",
            "one of the apples is gone",
            "I used two eggs",
            "use two eggs",
            "I ate two of the apples",
            "we drank half a carton of milk",
            "I threw away two eggs",
        ],
    ),
    (
        "list-add",
        &[
            "we're low on coffee",
            "put the milk back on the list",
            "put dish soap on the list",
            "add two cans of tuna to my shopping list",
            "I need coffee",
            "we need more milk",
            "I need to buy bread",
            "remind me to buy salt",
            "buy flour",
        ],
    ),
    (
        "list-drop",
        &[
            "I don't need bread",
            "take bread off the list",
            "remove bread from my list",
            "delete coffee from the list",
        ],
    ),
    (
        "list-read",
        &[
            "read the list",
            "what's on my shopping list",
            "what do I need to buy",
            "what do we need",
            "what is left to get",
        ],
    ),
    (
        "got",
        &[
            "got two cans of beans",
            "got the milk",
            "I've got the milk",
            "I bought the coffee",
            "tick off the tuna",
            "cross the tuna off",
        ],
    ),
    (
        "expires",
        &[
            "what expires this week",
            "what's about to expire",
            "what expires soon",
            "is anything going bad",
            "what goes bad by Friday",
        ],
    ),
    (
        "expired",
        &[
            "what has expired",
            "is anything expired",
            "has anything gone bad",
            "what is past its date",
        ],
    ),
    (
        "use-first",
        &["what should I use first", "what should we eat first"],
    ),
    (
        "when",
        &[
            "when does the milk expire",
            "is the milk still good",
            "has the yogurt gone bad",
            "what's the date on the milk",
        ],
    ),
    (
        "good-ask",
        &[
            "is the chicken safe",
            "is the milk safe to drink",
            "can I eat the chicken",
            "should I throw out the ham",
            "the milk smells off",
            "the eggs have expired",
        ],
    ),
    (
        "ate-bad",
        &["I ate something bad", "I drank something spoiled"],
    ),
    (
        "low",
        &["what is running low", "what's low", "what am I low on"],
    ),
    (
        "keep",
        &[
            "keep two cans of tomatoes",
            "always keep at least a dozen eggs in the house",
        ],
    ),
    (
        "tag-new",
        &[
            "temporary tag: two pounds of salmon, use by December third",
            "temporary tag salmon",
            "new tag for ham",
            "new tag: ham, two pounds",
        ],
    ),
    ("tags-read", &["read the tags", "what tags are there"]),
    (
        "tag-read",
        &[
            "what is on tag two",
            "what's tag two",
            "read tag number two",
        ],
    ),
    (
        "put-away",
        &[
            "put away the salmon in the freezer",
            "put the salmon away in the freezer",
            "put tag two in the fridge",
            "tag two goes in the fridge",
        ],
    ),
    (
        "place-read",
        &[
            "what is in the fridge",
            "what do we have in the freezer",
            "what's on the counter",
        ],
    ),
    (
        "where",
        &[
            "where is the flour",
            "where did I put the salmon",
            "where do we keep the flour",
            "find the flour",
        ],
    ),
    (
        "how-much",
        &[
            "how much rice is left",
            "how many eggs do we have left",
            "do I have milk",
            "is there any milk left",
        ],
    ),
    (
        "correct",
        &[
            "no I said oat milk",
            "no sorry I said the oat milk",
            "no I said two bags",
            "no I said three cans of tomatoes",
            "no I said the pantry",
            "no I said use by december fifteenth",
            "no I said two bags in the pantry",
        ],
    ),
    (
        "meant",
        &[
            "no I meant oat milk",
            "no I meant three",
            "no I meant the freezer",
            "no I meant december fourth",
            "no I meant the oat milk in the fridge",
        ],
    ),
    (
        "place-meant",
        &["no in the pantry", "no it goes in the freezer"],
    ),
    ("step-more", &["add a step wait ten minutes"]),
    (
        "what-there-is",
        &["what do I have", "what is in my kitchen"],
    ),
    ("never-mind", &["never mind"]),
    ("hush", &["be quiet", "stop talking"]),
    (
        "practice-end",
        &["quit", "I want to stop", "end the practice"],
    ),
    (
        "call-it",
        &[
            "call it oat milk",
            "spell it f r e e k e h",
            "it's spelled delta india lima lima",
        ],
    ),
    ("spell", &["spell it", "spell that please"]),
    (
        "names-read",
        &["what names have you learned", "read me the learned names"],
    ),
    (
        "names-forget",
        &[
            "forget the learned names of the milk",
            "forget the learned names for milk",
        ],
    ),
    (
        "put-somewhere",
        &[
            "I put the butter in the fridge",
            "we put rice in the cupboard",
        ],
    ),
    (
        "opened",
        &[
            "I opened the milk",
            "I opened a carton of milk",
            "we've opened two bags of rice yesterday",
        ],
    ),
    (
        "frozen",
        &["I froze the bread", "I froze two pounds of ham"],
    ),
    (
        "thawed",
        &[
            "I thawed the chicken",
            "we defrosted a pound of ham",
            "I took the bread out of the freezer",
        ],
    ),
    (
        "moved",
        &[
            "move two cans of beans from the pantry to the cupboard",
            "move the bread to the freezer",
            "I moved two bags of rice into the cupboard",
        ],
    ),
    ("sounds-keep", &["remember how I say new names"]),
    (
        "sounds-stop",
        &[
            "stop remembering how I say names",
            "don't remember how I say new names",
        ],
    ),
    ("sounds-lose", &["forget how I said the names"]),
    (
        "sound-play",
        &["how did I say the milk", "play the sound of milk"],
    ),
    (
        "changed-today",
        &["what changed today", "what did I do today"],
    ),
    (
        "why",
        &["why is the milk on the list", "why do we need milk"],
    ),
    (
        "undo",
        &["undo", "undo that", "take that back", "undo the last three"],
    ),
    ("repeat", &["repeat that", "say that again", "pardon"]),
    ("more", &["more", "go on", "read on", "tell me more"]),
    ("page-next", &["next"]),
    ("page-back", &["back", "go back"]),
    ("from-start", &["from the start", "from the beginning"]),
    (
        "nth",
        &["the third one", "read the first one", "the last one"],
    ),
    (
        "manner",
        &[
            "slower",
            "speak faster please",
            "speak up",
            "brief replies",
            "turn off the tones",
            "tones on",
            "wait longer",
            "another voice",
        ],
    ),
    (
        "rate",
        &[
            "speak at three hundred words a minute",
            "speak at 250 words a minute",
        ],
    ),
    ("heard-what", &["what did you hear"]),
    (
        "date-change",
        &[
            "change the date to December fifth",
            "change the date to use by December fifth",
            "change the date of the milk to December fifth",
            "the date is December fifteenth",
        ],
    ),
    ("help", &["help", "what can I say"]),
    (
        "teach",
        &[
            "teach me",
            "practise",
            "practice",
            "let me practise",
            "let me practice",
        ],
    ),
    (
        "teach-end",
        &["stop practising", "stop practicing", "stop the practice"],
    ),
    ("meaning", &["use by", "it's best by", "sell by date"]),
    ("ounces", &["by weight", "fluid ounces", "it's weight"]),
    ("yes", &["yes", "that's right"]),
    ("no", &["no", "nope", "cancel that"]),
    (
        "kind-note",
        &["ibuprofen is a medicine", "the sponges are household"],
    ),
    ("kind-ask", &["is aspirin a medicine"]),
    (
        "section-note",
        &[
            "the milk is in the dairy section",
            "apples are in produce section",
        ],
    ),
    (
        "place-note",
        &[
            "the flour belongs in the pantry",
            "milk lives in the fridge door",
            "keep the bread in the bread box",
        ],
    ),
    (
        "directions-note",
        &[
            "directions for the oats are boil ten minutes",
            "the directions on the rice say rinse it first",
        ],
    ),
    (
        "step-note",
        &[
            "another step drain it",
            "add one more step stir it well",
            "the next step is let it rest",
            "add a step to the rice fluff it with a fork",
            "add another step to the directions for the rice serve it hot",
            "the next step for the oats is stir in the milk",
        ],
    ),
    (
        "take-ask",
        &["how do I take the aspirin", "how do I take ibuprofen"],
    ),
    (
        "dose-ask",
        &[
            "how many aspirin should I take",
            "how much aspirin can I take",
            "can I take two aspirin",
            "how often can I take the aspirin",
            "what is the dose for aspirin",
        ],
    ),
    (
        "too-much",
        &["I took too much aspirin", "I have taken too many aspirin"],
    ),
    (
        "step-next",
        &["next step", "what's the next step", "what is the next step"],
    ),
    (
        "step-back",
        &["back a step", "the previous step", "the step before"],
    ),
    ("step-first", &["the first step", "the first step again"]),
    ("make-note", &["the kind of milk I like is lactose free"]),
    (
        "helper-note",
        &[
            "tell the helper about the apples pick firm ones",
            "note for the helper on the milk check the date",
        ],
    ),
    (
        "label-has",
        &[
            "the label on the cookies says peanuts",
            "the oats contain wheat",
        ],
    ),
    (
        "label-may",
        &[
            "the oats may contain traces of soy",
            "the label on the cookies says it may contain sesame",
        ],
    ),
    (
        "label-lacks",
        &[
            "the label of the oats lists no peanuts",
            "the oats contain no milk or eggs",
            "the cookies don't contain wheat",
            "the bread is free of sesame",
        ],
    ),
    (
        "allergens-ask",
        &[
            "what allergens are in the oats",
            "what does the label of the cookies say",
        ],
    ),
    (
        "label-ask",
        &[
            "do the cookies have peanuts in them",
            "does the bread contain sesame",
            "is there any milk in the bread",
        ],
    ),
    (
        "allergen-ask",
        &["what has peanuts in it", "what contains milk"],
    ),
    (
        "directions-ask",
        &[
            "how do I cook the oats",
            "read me the directions for the rice",
            "what are the directions on the pasta",
            "directions for the rice",
        ],
    ),
    (
        "feel-note",
        &[
            "the tuna feels like a flat square can with a pop top",
            "the salt is in a tall round box",
        ],
    ),
    (
        "feel-ask",
        &[
            "what is the flat square tin",
            "what's this small jar with a wide lid",
            "what has two bands",
            "what is the can with one band",
        ],
    ),
    (
        "mark-note",
        &[
            "I put two bands on the beans",
            "two rubber bands on the rice",
            "I put a clip on the bread",
        ],
    ),
    (
        "tag-kitchen",
        &[
            "kitchen tag twelve on the oats",
            "the oats get kitchen tag twelve",
        ],
    ),
    ("tag-remind", &["reminder tag thirty for candles"]),
    ("tags-take", &["I'm taking tags one to five"]),
    ("tag-lost", &["I lost tag five", "tag five is lost"]),
    ("tag-found", &["I found tag five"]),
    ("tags-free", &["which tags are free", "where are the tags"]),
    ("spent", &["spent tags", "read the spent tags"]),
    ("spent-one", &["oats", "twelve", "tag twelve"]),
    ("done", &["done", "that's all", "I'm done"]),
    (
        "trip-begin",
        &["I'm going shopping", "we're going to the store"],
    ),
    ("trip-end", &["I'm home", "we're back home again"]),
    ("next-line", &["next", "what's next", "next one"]),
    ("got-it", &["got it", "I have it", "I got them"]),
    (
        "none-there",
        &[
            "they have none",
            "they don't have any",
            "they have no milk",
            "they are out of milk",
        ],
    ),
    (
        "instead",
        &[
            "instead I took bread",
            "I got honey instead",
            "I took honey instead of the sugar",
        ],
    ),
    ("wanted", &["what's left", "what's still missing"]),
    (
        "put-away-all",
        &[
            "put things away",
            "let's put away the groceries",
            "put the shopping away",
        ],
    ),
    (
        "goes-there",
        &[
            "in the fridge",
            "freezer",
            "it goes in the pantry",
            "put it in the usual place",
            "where it belongs",
        ],
    ),
    (
        "goes-with-tag",
        &["kitchen tag twelve", "it gets tag twelve"],
    ),
    (
        "in-hand",
        &[
            "tag three",
            "the beans",
            "beans",
            "the beans without a tag",
            "the one with two bands",
            "it's the one with a clip on the lid",
            "the flat square tin",
            "this is a small can with two bands",
            "the heavy one",
            "the one that rattles",
        ],
    ),
    ("skip", &["skip it", "not now"]),
    (
        "cant-tell",
        &[
            "I can't tell",
            "I don't know what it is",
            "I'm not sure which it is",
        ],
    ),
    (
        "made-sure",
        &["I'm sure about the beans", "it really is the beans"],
    ),
    (
        "not-yet-known",
        &["what's not yet known", "what don't you know"],
    ),
    ("bought-last", &["what did I buy last time"]),
    (
        "put-back",
        &[
            "put it back",
            "put the milk back",
            "I put the milk back",
            "there is still milk left after all",
        ],
    ),
    (
        "how-long",
        &[
            "how long will the milk last",
            "when will I run out of coffee",
        ],
    ),
    (
        "keeps",
        &[
            "how long does opened mayonnaise keep",
            "how long does mayonnaise keep once opened",
            "how long do eggs keep in the fridge",
            "how long can I keep bacon in the freezer",
            "how long does chicken keep after thawing",
        ],
    ),
    (
        "code-is",
        &["this is the rice", "it's milk", "this is tag twelve"],
    ),
    (
        "date-note",
        &[
            "the milk is use by december third",
            "the date on the eggs is best by december tenth",
            "the milk expires december fifth",
            "the milk is good until december fifth",
            "the eggs go bad on december fifth",
        ],
    ),
    (
        "count-note",
        &[
            "there are only three apples left",
            "there are six eggs left",
            "I have two cans of beans left",
        ],
    ),
    (
        "put-back-in",
        &[
            "I put the milk back in the fridge",
            "put the rice back in the pantry",
            "please put bread back on the counter",
        ],
    ),
    (
        "it-is-there",
        &[
            "it's in the fridge",
            "they are on the counter",
            "put it back in the pantry",
        ],
    ),
    (
        "got-some",
        &["got two apples", "I got six eggs", "got one of the lemons"],
    ),
    (
        "only-had",
        &["they only had two", "they had only one of them"],
    ),
    (
        "keep-end",
        &[
            "stop keeping eggs",
            "don't keep beans any more",
            "stop keeping the beans",
        ],
    ),
    ("keep-read", &["what do I keep", "what do we always keep"]),
    (
        "list-more",
        &[
            "I need two more lemons",
            "I need two more cans of tuna",
            "we need one more can",
        ],
    ),
    ("list-clear", &["clear the list", "clear my shopping list"]),
    (
        "put-right",
        &[
            "no, three",
            "no, the garage",
            "no, december fourth",
            "make it four",
            "make that four cans",
            "change it to december ninth",
            "actually three",
            "I meant rice",
            "not corn but rice",
        ],
    ),
    (
        "used-some",
        &["I used some of it", "we ate some of the rice"],
    ),
    (
        "last-change",
        &["what did I just do", "what was the last change"],
    ),
    ("why-so", &["why", "why did you do that"]),
    (
        "changed-yesterday",
        &["what changed yesterday", "what did I do yesterday"],
    ),
    ("undo-ask", &["how do I undo", "how do I undo that"]),
    (
        "mistake-ask",
        &["how do I correct a mistake", "how do I fix that"],
    ),
    (
        "wrong",
        &[
            "that's wrong",
            "that's not what I said",
            "you misheard me",
            "I made a mistake",
            "scratch that",
        ],
    ),
    ("today-ask", &["what is today's date", "what day is it"]),
    (
        "meaning-ask",
        &[
            "what does use by mean",
            "what does best by mean",
            "what does sell by mean",
            "what does freeze by mean",
        ],
    ),
    ("yes-clear", &["yeah", "yep", "yes I do"]),
    (
        "agreed",
        &["sure", "okay", "correct", "of course", "do it", "go ahead"],
    ),
    ("no-said", &["no thanks", "no, don't", "not now"]),
    (
        "no-idea",
        &["it doesn't say", "the label doesn't say", "I don't know"],
    ),
    (
        "left-out",
        &[
            "I left the chicken out",
            "I left the milk on the counter overnight",
        ],
    ),
    (
        "mark-ask",
        &[
            "what mark is on the chickpeas",
            "what's the mark on the beans",
        ],
    ),
    (
        "mark-off",
        &["I took the band off the corn", "the corn has no band"],
    ),
    ("which-year", &["this year", "it's next year"]),
    ("some-of", &["six", "no, six of them"]),
    ("old-ones", &["the expired ones", "no, the old ones"]),
    (
        "spent-some",
        &["one can of chickpeas", "tuna in the garage"],
    ),
    ("done-shopping", &["I'm done shopping", "we're finished"]),
    (
        "list-ask",
        &[
            "is milk on the list",
            "how much milk is on the list",
            "do I need bread",
        ],
    ),
    ("list-change", &["change the apples to four pounds"]),
    (
        "tag-spent",
        &["I used up tag twelve", "tag twelve is empty"],
    ),
    ("tag-free", &["tag twelve is free"]),
    (
        "none-here",
        &[
            "I can't find it",
            "they ran out",
            "it's sold out",
            "none here",
        ],
    ),
    ("go-on", &["next", "okay next"]),
    (
        "opened-ask",
        &[
            "is the milk open",
            "have I opened the milk",
            "when did I open the milk",
        ],
    ),
    ("have-none", &["I have no milk", "we don't have any bread"]),
    (
        "bad-sign",
        &[
            "the tomatoes are bulging",
            "the bread is moldy",
            "the can is dented",
        ],
    ),
    (
        "free-ask",
        &[
            "is the bread nut free",
            "can a guest with a nut allergy eat the bread",
        ],
    ),
    (
        "thrown-out-old",
        &["I threw out the expired eggs", "I threw out the old eggs"],
    ),
    (
        "allergen-free-ask",
        &["what has no nuts", "what can I cook without nuts"],
    ),
];
