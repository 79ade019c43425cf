from diagtree.library.library import Library


def test_the_kettle_is_joined_by_full_names(kettle: Library):
    assert kettle.causes["kettle/scale"].remedies == ("kettle/descale", "kettle/new-element")
    assert kettle.trees["no-heat"].checks["lamp"].answers["no"].next == "other-socket"
    assert kettle.trees_of["kettle/scale"] == ("no-heat", "slow-boil")
    assert len(kettle.identity("no-heat")) == 12
