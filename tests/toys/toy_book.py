"""A small rule book over the toy vocabulary, as a technician would write it."""

LIMITS = """\
- limit: damp-ware-rate
  value: 60 C/h
  range: 20 C/h to 110 C/h
  sources: common practice, no source
  note: Slower is safer.
"""

RULES = """\
- rule: guard-missing
  concerns: witness set
  doubt when: guard is missing
  at: target
  finding: The witness set on the {place} has no guard cone.
  do: Add a guard cone one step hotter than the target, {one step hotter than target}.
  write: guard {one step hotter than target}
  after: target
  why: |
    The guard is the cone that should still stand when the firing ends.
    Without it nothing shows that the kiln went too far.
  accept when: |
    The kiln has a second set with a guard.
  sources:
    - common practice, no source
  passes:
    - plan: |
        witness "top shelf"
          guide 8
          target 9
          guard 10
  fails:
    - plan: |
        witness "top shelf"
          guide 8
          target 9
      at: target 9
    - without: guard 10
      at: target 9

- rule: pack-reversed
  concerns: witness set
  doubt when: guide is hotter than target and target is hotter than guard
  at: guide
  finding: The cones on the {place} run from {guide} down to {guard}, hottest first.
  do: Swap guide and guard.
  why: The guide goes down first, so it is the coolest.
  sources: common practice, no source
  silences: [guide-not-cooler, guard-not-hotter]
  passes:
    - plan: |
        witness "top shelf"
          guide 8
          target 9
          guard 10
  fails:
    - plan: |
        witness "top shelf"
          guide 10
          target 9
          guard 8
      at: guide 10
    - witness "bottom shelf":
        guide 8: guide 10
      after:
        target 9: guard 8
      without: guard 10
      at: guide 10

- rule: guide-not-cooler
  concerns: witness set
  doubt when: guide is not cooler than target
  at: guide
  finding: The guide, {guide}, is not cooler than the target, {target}.
  do: Take {one step cooler than target} as the guide.
  write: guide {one step cooler than target}
  instead: guide
  why: The guide warns that the target is near.
  sources: common practice, no source
  passes:
    - plan: |
        witness "top shelf"
          guide 8
          target 9
          guard 10
  fails:
    - plan: |
        witness "top shelf"
          guide 9
          target 9
          guard 10
      at: guide 9

- rule: guard-not-hotter
  concerns: witness set
  doubt when: guard is not hotter than target
  at: guard
  finding: The guard, {guard}, is not hotter than the target, {target}.
  do: Take {one step hotter than target} as the guard.
  why: The guard must stay standing.
  sources: common practice, no source
  passes:
    - plan: |
        witness "top shelf"
          guide 8
          target 9
          guard 10
  fails:
    - plan: |
        witness "top shelf"
          guide 8
          target 9
          guard 9
      at: guard 9

- rule: damp-ware-too-fast
  concerns: segment
  loss when: >-
    rate is faster than damp-ware-rate
    and start is below 100 C
    and some ware has (state is damp or leather-hard)
  at: [rate]
  finding: >-
    The kiln climbs {rate} with damp ware in it; at most {damp-ware-rate} leaves the water
    time to go.
  do: Climb {damp-ware-rate} or slower, which takes {(goal - start) / damp-ware-rate}.
  write: climb {damp-ware-rate} to {goal}
  instead: rate
  why: Steam bursts damp ware.
  sources: common practice, no source
  passes:
    - plan: |
        schedule
          segment "first", rate 108 F/h, start 20 C, goal 95 C
        load
          ware "pots", state damp, wall 6 mm
    - plan: |
        schedule
          segment "first", rate 200 F/h, start 20 C, goal 95 C
  fails:
    - plan: |
        schedule
          segment "first", rate 180 F/h, start 20 C, goal 95 C
        load
          ware "pots", state damp, wall 6 mm
      at: rate 180 F/h

- rule: vent-not-on
  concerns: plan
  danger when: kiln is missing or not vent-on-throughout of kiln
  at: [vent-on-throughout of kiln, kiln]
  finding: Nothing says that the vent is on throughout.
  do: Switch the vent on from start to end.
  why: Fumes.
  sources: common practice, no source
  passes:
    - plan: |
        kiln "Heron"
          vent-on-throughout yes
  fails:
    - plan: |
        kiln "Heron"
          vent-on-throughout no
      at: vent-on-throughout no
    - vent-on-throughout yes: vent-on-throughout no
      at: vent-on-throughout no
    - plan: |
        plan "no kiln"
      without: [kiln]
      at: plan "no kiln"

- rule: clay-range-narrow
  concerns: clay
  advice when: steps from matures-from to matures-to is at most 1
  finding: The {clay} matures over {steps from matures-from to matures-to} step.
  do: Fire it on the shelf that reads most evenly.
  why: A narrow range forgives little.
  sources: common practice, no source
  passes:
    - plan: |
        load
          clay "Marsh buff", matures-from 8, matures-to 10
          ware "mugs", state bisque, wall 6 mm
  fails:
    - plan: |
        load
          clay "Marsh buff", matures-from 8, matures-to 9
          ware "mugs", state bisque, wall 6 mm
      at: clay "Marsh buff", matures-from 8, matures-to 9
"""
