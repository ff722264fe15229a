## The last steps: hoses and fittings on the unit, what is not in use put away.
unit-title-hose = Put the { $hose } on the unit
unit-title-tools = Bring the fittings to the tools
unit-title-away = Put away cord and hoses

unit-owned_hose = { $hose } (owned), cut to { $cut }
unit-say-push = { $way ->
    [into] Push the { $upstream } into the { $downstream }.
    [over] Push the { $upstream } over the { $downstream }.
   *[to] Hold the { $upstream } to the { $downstream }.
}
unit-say-bucket_boards = Put on what is made for the bucket first, each as its own page says: { $boards }.
unit-say-instead = One hose hangs on the unit at a time: pull off the { $other }, and change them as the tools ask for it.
unit-say-cut = Try the steps of the { $piece }, on both ends, and cut it back with a knife, square, to the two that grip.
unit-say-clamp = Close a band clamp over it, a finger's breadth from the edge.
unit-say-clamp_at = Close a band clamp where the { $upstream } meets the { $downstream }.
unit-say-tape = { $turns ->
    [one] Wind vinyl tape round the { $inner } until it measures { $across } across: { $thick } of tape all round, about { $turns } turn.
   *[other] Wind vinyl tape round the { $inner } until it measures { $across } across: { $thick } of tape all round, about { $turns } turns.
}
unit-say-slip = It pulls off by hand; twist it on.
unit-say-coupling = Its other end keeps the { $piece }, for every tool on it.
unit-say-tool = { $tool }: { $pieces }.
unit-say-chart = The wall chart shows each in its order, and which end goes where.
unit-say-cord = { $wrap ->
    [cord-wrap] Wind the vacuum's cord on the cord wrap.
   *[none] Wind the vacuum's cord in loose turns on the vacuum itself, plug and all.
}
unit-say-hang = Hang the { $hose } off the cart, in turns of { $across } or more, over two pegs a hand apart.
unit-mind-hose = Pull at it as hard as work will: it must not come off, and the cart must not move.
unit-mind-tools = Pull the tool's plug before a hand goes near its port.
unit-mind-away = What hangs on the cart beside what this plan hangs there was not weighed: it can tip it.
